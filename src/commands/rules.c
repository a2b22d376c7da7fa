#include "tundish/print/rules.h"

#include "command.h"

#include "tundish/base/text.h"
#include "tundish/print/schema.h"

/* One thing is asked at a time: what two of them at once would mean is anybody's guess. */
static bool one_thing(struct run *run)
{
	const struct options *options = &run->options;
	bool by_name = options->operand_count > 0, by_category = options->category > 0;
	struct err err = {0};

	if (by_name + by_category + options->standing_given + options->counts + options->schema > 1)
		err_set(&err, ERR_USAGE,
		        "NAME, --for, --standing, --counts and --schema are asked one at a time");
	else if (options->mechanism_given && !by_category)
		err_set(&err, ERR_USAGE, "--mechanism wants a category too: --for CATEGORY");
	if (err.kind != ERR_NONE)
		run_error(run, &err);
	return err.kind == ERR_NONE;
}

static void by_name(struct run *run, struct page *page, const char *name)
{
	struct err err = {0};

	if (rules_entry(page, &run->book, name))
		return;
	const char *nearest = rules_nearest(&run->book, name, &run->scratch);
	if (nearest)
		err_set(&err, ERR_USAGE, "the rulebook has no %s; did you mean %s?", name, nearest);
	else
		err_set(&err, ERR_USAGE,
		        "the rulebook has no %s; `tundish rules` lists what there is", name);
	run_error(run, &err);
}

void command_rules(struct run *run)
{
	const struct options *options = &run->options;
	struct page page = {&run->out, &run->scratch};

	if (!one_thing(run) || !run_load_book(run))
		return;
	if (options->category && options->mechanism_given)
		rules_for(&page, &run->book, options->category, options->mechanism);
	else if (options->category)
		rules_for_any(&page, &run->book, options->category);
	else if (options->standing_given)
		rules_standing(&page, &run->book, options->standing);
	else if (options->counts)
		rules_counts(&page, &run->book);
	else if (options->schema)
		schema_survey(&run->out, &run->book);
	else if (options->operand_count > 0)
		by_name(run, &page, options->operand[0]);
	else
		rules_list(&page, &run->book);
}

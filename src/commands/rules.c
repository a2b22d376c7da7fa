#include "tundish/print/rules.h"

#include "command.h"

void command_rules(struct run *run)
{
	struct page page = {&run->out, &run->scratch};
	struct err err = {0};

	if (!run_load_book(run))
		return;
	if (run->options.operand_count == 0) {
		rules_list(&page, &run->book);
		return;
	}
	const char *name = run->options.operand[0];
	if (rules_entry(&page, &run->book, name))
		return;
	const char *nearest = rules_nearest(&run->book, name, &run->scratch);
	if (nearest)
		err_set(&err, ERR_USAGE, "the rulebook has no %s; did you mean %s?", name, nearest);
	else
		err_set(&err, ERR_USAGE,
		        "the rulebook has no %s; `tundish rules` lists what there is", name);
	run_error(run, &err);
}

#include "expect_check.h"

#include <check.h>
#include <stdio.h>
#include <string.h>

#define PIECE(p) (int)(p).length, (p).at

/* What is compared, and where it stands in messages. */
struct comparison {
	const struct assessed *assessed;
	const struct expectation *expected;
};

static void differs(const struct comparison *c, const char *what, struct piece said, const char *is)
{
	ck_abort_msg("%s: %s: %s should be %.*s and is %s", c->assessed->file, c->expected->ref,
	             what, PIECE(said), is);
}

static void same_text(const struct comparison *c, const char *what, struct piece said,
                      const char *is)
{
	if (!piece_is(said, is))
		differs(c, what, said, is);
}

static void same_range(const struct comparison *c, const char *what, struct piece said,
                       struct range range)
{
	char words[8];

	range_words(range, words);
	same_text(c, what, said, words);
}

/** Of the keys in @p names, which end with NULL; else a slip of the pen would compare nothing. */
static void only(const struct comparison *c, struct piece map, const char *const *names)
{
	struct piece entry, key, value;

	ck_assert_msg(map.length > 0 && map.at[0] == '{', "%s: %s: %.*s is no map",
	              c->assessed->file, c->expected->ref, PIECE(map));
	for (size_t i = 0, n; piece_entry(map, i, &entry); i++) {
		bool known = piece_split(entry, &key, &value);

		for (n = 0; known && names[n] && !piece_is(key, names[n]); n++)
			;
		ck_assert_msg(known && names[n], "%s: %s: x-expect says %.*s, which means nothing",
		              c->assessed->file, c->expected->ref, PIECE(entry));
	}
}

static bool among(struct piece list, const char *word)
{
	struct piece entry;

	for (size_t i = 0; piece_entry(list, i, &entry); i++)
		if (piece_is(entry, word))
			return true;
	return false;
}

static size_t count_entries(struct piece list)
{
	struct piece entry;
	size_t count = 0;

	while (piece_entry(list, count, &entry))
		count++;
	return count;
}

/* -- rows and questions ------------------------------------------------------------------ */

static bool names_row(const struct assessment *assessment, struct piece id, bool certainly)
{
	for (size_t i = 0; i < assessment->because_count; i++)
		if (piece_is(id, assessment->because[i].row->id) &&
		    (assessment->because[i].certain || !certainly))
			return true;
	return false;
}

static void check_rows(const struct comparison *c)
{
	struct piece list, id;

	if (piece_value(c->expected->whole, "rows", &list))
		for (size_t i = 0; piece_entry(list, i, &id); i++)
			if (!names_row(c->assessed->assessment, id, true))
				differs(c, "the row that counts", id, "another");
	if (piece_value(c->expected->whole, "not", &list))
		for (size_t i = 0; piece_entry(list, i, &id); i++)
			ck_assert_msg(!names_row(c->assessed->assessment, id, false),
			              "%s: %s: row %.*s should not count", c->assessed->file,
			              c->expected->ref, PIECE(id));
}

static bool is_asked(const struct assessed *assessed, struct piece name)
{
	const struct assessment *assessment = assessed->assessment;

	for (size_t i = 0; i < assessment->ask_count; i++) {
		struct ask_name ask = assessed_ask(assessed, &assessment->ask[i]);
		char words[200];

		snprintf(words, sizeof words, "%s%s%s%s%s", ask.word[0], ask.count > 1 ? "/" : "",
		         ask.count > 1 ? ask.word[1] : "", ask.count > 2 ? "/" : "",
		         ask.count > 2 ? ask.word[2] : "");
		if (piece_is(name, words))
			return true;
	}
	return false;
}

static void check_asks(const struct comparison *c)
{
	struct piece list, name;

	if (!piece_value(c->expected->whole, "ask", &list))
		return;
	if (count_entries(list) == 0 && c->assessed->assessment->ask_count > 0)
		differs(c, "what is still to be asked", list, "more than nothing");
	for (size_t i = 0; piece_entry(list, i, &name); i++)
		if (!is_asked(c->assessed, name))
			differs(c, "what is still to be asked", name, "not that");
}

/* -- fluids ------------------------------------------------------------------------------ */

static const struct fluid_verdict *find_fluid(const struct comparison *c, struct piece id)
{
	const struct assessment *a = c->assessed->assessment;

	for (size_t i = 0; i < a->fluid_count; i++)
		if (piece_is(id, assessed_fluid(c->assessed, a->fluid[i].fluid)))
			return &a->fluid[i];
	return NULL;
}

static void same_mechanisms(const struct comparison *c, struct piece list, uint8_t flags)
{
	for (unsigned m = 0; m < MECHANISM_COUNT; m++) {
		const char *name = mechanism_name((enum mechanism)m);

		if (among(list, name) != ((flags >> m) & 1))
			differs(c, "the way that a fluid comes by", list,
			        among(list, name) ? "less" : "more");
	}
}

static void same_inlets(const struct comparison *c, struct piece list, uint8_t flags)
{
	const struct kind *kind = assessed_kind(c->assessed);

	for (size_t i = 0; i < kind->inlet_count; i++)
		if (among(list, kind->inlet[i].id) != ((flags >> i) & 1))
			differs(c, "the inlets that a fluid comes through", list,
			        among(list, kind->inlet[i].id) ? "less" : "more");
}

static void check_fluid(const struct comparison *c, struct piece said)
{
	static const char *const keys[] = {"fluid", "category", "by", "inlets", NULL};
	const struct fluid_verdict *fluid;
	struct piece value = {"", 0};

	only(c, said, keys);
	piece_value(said, "fluid", &value);
	fluid = find_fluid(c, value);
	if (!fluid) {
		differs(c, "a fluid", said, "not there");
		return;
	}
	if (piece_value(said, "category", &value))
		same_range(c, "a fluid's category", value, fluid->category);
	if (piece_value(said, "by", &value))
		same_mechanisms(c, value, fluid->by);
	if (piece_value(said, "inlets", &value))
		same_inlets(c, value, fluid->inlets);
}

/** Those that could come back: a fluid that does not is category 1 and need not be said. */
static void check_fluids(const struct comparison *c)
{
	const struct assessment *a = c->assessed->assessment;
	struct piece list, said;
	size_t count = 0;

	if (!piece_value(c->expected->whole, "fluids", &list))
		return;
	for (size_t i = 0; piece_entry(list, i, &said); i++)
		check_fluid(c, said);
	for (size_t i = 0; i < a->fluid_count; i++)
		count += a->fluid[i].category.most > 1;
	if (count_entries(list) != count)
		differs(c, "the list of fluids that could come back", list, "longer or shorter");
}

/* -- paths ------------------------------------------------------------------------------- */

static const struct path *find_path(const struct comparison *c, struct piece said)
{
	const struct assessment *a = c->assessed->assessment;
	struct piece fluid = {"", 0}, inlet = {"", 0}, by = {"", 0}, to = {"", 0};

	piece_value(said, "fluid", &fluid);
	piece_value(said, "inlet", &inlet);
	piece_value(said, "by", &by);
	piece_value(said, "to", &to);
	for (size_t i = 0; i < a->path_count; i++) {
		const struct path *path = &a->path[i];

		if (piece_is(fluid, assessed_fluid(c->assessed, path->fluid)) &&
		    piece_is(inlet, assessed_inlet(c->assessed, path->inlet_index)) &&
		    piece_is(by, mechanism_name(path->mechanism)) && piece_is(to, path->to))
			return path;
	}
	return NULL;
}

static void check_path(const struct comparison *c, struct piece said)
{
	static const char *const keys[] = {"fluid",    "inlet",    "by",       "to",
	                                   "needs",    "good_for", "accepted", "as_found",
	                                   "on_paper", "in_fact",  NULL};
	const struct path *path;
	struct piece value;

	only(c, said, keys);
	path = find_path(c, said);
	if (!path) {
		differs(c, "a path", said, "not there");
		return;
	}
	for (size_t i = 4; keys[i]; i++) {
		const struct range figure[] = {path->needs, path->good_for, path->accepted,
		                               path->found, path->on_paper, path->in_fact};
		char what[100];

		snprintf(what, sizeof what, "%s to %s", keys[i], path->to);
		if (piece_value(said, keys[i], &value))
			same_range(c, what, value, figure[i - 4]);
	}
}

static void check_paths(const struct comparison *c)
{
	struct piece list, said;

	if (piece_value(c->expected->whole, "paths", &list))
		for (size_t i = 0; piece_entry(list, i, &said); i++)
			check_path(c, said);
}

static void check_places(const struct comparison *c)
{
	const struct assessment *a = c->assessed->assessment;
	struct piece list, place;

	if (!piece_value(c->expected->whole, "to", &list))
		return;
	for (size_t i = 0; i < a->path_count; i++)
		if (!among(list, a->path[i].to))
			differs(c, "the places that it could get to", list, a->path[i].to);
	for (size_t i = 0, p; piece_entry(list, i, &place); i++) {
		for (p = 0; p < a->path_count && !piece_is(place, a->path[p].to); p++)
			;
		if (p == a->path_count)
			differs(c, "a place that it could get to", place, "not there");
	}
}

/* -- the whole --------------------------------------------------------------------------- */

static struct piece must_say(const struct comparison *c, const char *key)
{
	struct piece value = {"", 0};

	ck_assert_msg(piece_value(c->expected->whole, key, &value), "%s: %s says no %s",
	              c->assessed->file, c->expected->ref, key);
	return value;
}

void expect_check(const struct assessed *assessed, const struct expectation *expected)
{
	static const char *const keys[] = {"category", "on_paper", "in_fact", "verdict", "urgency",
	                                   "fluids",   "paths",    "to",      "rows",    "not",
	                                   "ask",      "source",   NULL};
	const struct assessment *a = assessed->assessment;
	struct comparison c = {assessed, expected};
	struct piece value;

	only(&c, expected->whole, keys);
	same_range(&c, "category", must_say(&c, "category"), a->category);
	same_range(&c, "on_paper", must_say(&c, "on_paper"), a->on_paper);
	same_range(&c, "in_fact", must_say(&c, "in_fact"), a->in_fact);
	same_text(&c, "verdict", must_say(&c, "verdict"), verdict_name(a->verdict));
	if (piece_value(expected->whole, "urgency", &value))
		same_text(&c, "urgency", value, urgency_name(a->urgency));
	check_fluids(&c);
	check_paths(&c);
	check_places(&c);
	check_rows(&c);
	check_asks(&c);
}

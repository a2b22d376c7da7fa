#include "quiz_inside.h"

#include "tundish/base/number.h"

#include <string.h>

/* -- values ---------------------------------------------------------------------------------- */

size_t node_count(const struct node *first)
{
	size_t count = 0;

	for (; first; first = first->next)
		count++;
	return count;
}

static bool is_name(const char *text)
{
	static const char letters[] =
	        "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789_-";

	return text[0] && text[strspn(text, letters)] == '\0';
}

const char *read_name(struct quiz_reader *reader, const struct node *node, const char *what,
                      const char *key)
{
	const char *name = node_text(node, key, reader->faults);

	if (!name) {
		if (!node_get(node, key))
			node_fault(node, reader->faults, "%s needs `%s`", what, key);
		return NULL;
	}
	if (is_name(name))
		return name;
	node_fault(node_get(node, key), reader->faults,
	           "`%s` is made of letters, 0-9, _ and -: `%.60s` is not", key, name);
	return NULL;
}

/* The nearest of some words; where none is near, all of them. */
static const char *meant_or_all(const char *word, const char *const *words, size_t count,
                                struct faults *faults)
{
	const char *says = node_meant(word, words, count, faults);

	if (*says)
		return says;
	for (size_t i = 0; says && i < count; i++)
		says = arena_print(faults->arena, "%s%s`%s`", says, i ? ", " : ": expected ", words[i]);
	return says ? says : "";
}

int read_one_of(struct quiz_reader *reader, const struct node *value, const char *what,
                const char *const *words, size_t count)
{
	if (value->kind != EVENT_SCALAR) {
		node_fault(value, reader->faults, "%s is one word, not a list or a map", what);
		return -1;
	}
	for (size_t i = 0; i < count; i++)
		if (strcmp(value->text, words[i]) == 0)
			return (int)i;
	node_fault(value, reader->faults, "`%.60s` is no %s%s", value->text, what,
	           meant_or_all(value->text, words, count, reader->faults));
	return -1;
}

bool read_decimal(struct quiz_reader *reader, const struct node *map, const char *key, double *out)
{
	const struct node *node = node_get(map, key);

	if (!node)
		node_fault(map, reader->faults, "a number needs `%s`", key);
	else if (node->kind == EVENT_SCALAR && number_parse(node->text, strlen(node->text), out))
		return true;
	else
		node_fault(node, reader->faults, "`%s` is a number, such as 20 or 0.5", key);
	return false;
}

/* A whole number, as few digits as it takes: 010 is eight to other readers. */
static bool is_whole(const char *text, uint64_t *value)
{
	uint64_t sum = 0;

	if (!text[0] || (text[0] == '0' && text[1]))
		return false;
	for (; *text; text++) {
		unsigned digit = (unsigned)(*text - '0');

		if (*text < '0' || *text > '9' || sum > (UINT64_MAX - digit) / 10)
			return false;
		sum = sum * 10 + digit;
	}
	*value = sum;
	return true;
}

/* @return whether it was said, and well. */
static bool read_whole(struct quiz_reader *reader, const struct node *map, const char *key,
                       uint64_t least, uint64_t most, uint64_t *out)
{
	const struct node *node = node_get(map, key);
	uint64_t value = 0;

	if (!node)
		return false;
	if (node->kind == EVENT_SCALAR && is_whole(node->text, &value) && value >= least &&
	    value <= most) {
		*out = value;
		return true;
	}
	node_fault(node, reader->faults, "`%s` is a whole number, %llu to %llu", key,
	           (unsigned long long)least, (unsigned long long)most);
	return false;
}

static unsigned read_small(struct quiz_reader *reader, const struct node *map, const char *key,
                           unsigned most)
{
	uint64_t value = 0;

	read_whole(reader, map, key, 1, most, &value);
	return (unsigned)value;
}

/* -- the keys at the top --------------------------------------------------------------------- */

/* @return whether to go on: of a format that is not known nothing else can be said. */
static bool read_version(struct quiz_reader *reader, const struct node *root)
{
	const struct node *node = node_get(root, "quiz");
	double version = 0;

	if (!node) {
		fault_add(reader->faults, SEVERITY_FAULT, root->source, (struct span){0, 0},
		          "this does not say `quiz: 1`: is it a quiz file?");
		return true;
	}
	if (node->kind != EVENT_SCALAR || !number_parse(node->text, strlen(node->text), &version) ||
	    version < 1) {
		node_fault(node, reader->faults, "`quiz` says the format of the file: 1");
		return true;
	}
	if (version > 1)
		node_fault(node, reader->faults,
		           "format %.20s is from a newer tundish: this one reads format 1 and "
		           "leaves the file alone",
		           node->text);
	return version <= 1;
}

static void read_house(struct quiz_reader *reader, const struct node *root)
{
	static const char *const known[] = {"rooms", "points", "premises", "level", NULL};
	const struct node *survey = node_get(root, "survey"), *invent = node_get(root, "invent");
	struct quiz_file *out = reader->out;

	if (survey && invent)
		node_fault(invent, reader->faults,
		           "a quiz is about a `survey` or about what it lets `invent`, not both");
	out->survey = node_text(root, "survey", reader->faults);
	if (survey)
		out->survey_span = survey->span;
	if (!invent || !node_is_map(invent, "`invent`", reader->faults))
		return;
	node_known_keys(invent, "`invent`", known, reader->faults);
	out->rooms = read_small(reader, invent, "rooms", QUIZ_ROOMS_MOST);
	out->points = read_small(reader, invent, "points", QUIZ_POINTS_MOST);
	out->level = read_small(reader, invent, "level", 4);
	out->premises = node_text(invent, "premises", reader->faults);
	if (out->premises)
		out->premises_span = node_get(invent, "premises")->span;
}

static void read_on(struct quiz_reader *reader, const struct node *root)
{
	const struct node *node = node_get(root, "on");
	struct days days;

	if (!node)
		return;
	if (node->kind != EVENT_SCALAR || !date_parse(node->text, strlen(node->text), &days) ||
	    days.first != days.last) {
		node_fault(node, reader->faults, "`on` is a day, such as 2026-11-25");
		return;
	}
	reader->out->has_on = true;
	reader->out->on = days.first;
}

static void read_sitting(struct quiz_reader *reader, const struct node *root)
{
	static const char *const modes[] = {"practice", "exam"};
	const struct node *mode = node_get(root, "mode");
	struct quiz_file *out = reader->out;
	uint64_t count = 0;

	out->has_seed = read_whole(reader, root, "seed", 0, UINT64_MAX, &out->plan.seed);
	out->exam = mode && read_one_of(reader, mode, "mode", modes, 2) == 1;
	out->pass_percent = read_small(reader, root, "pass_percent", 100);
	out->minutes = read_small(reader, root, "minutes", QUIZ_MINUTES_MOST);
	if (read_whole(reader, root, "count", 1, TASKS_MOST, &count))
		out->plan.count = (size_t)count;
}

static void read_families(struct quiz_reader *reader, const struct node *root)
{
	const char *names[FAMILY_COUNT];
	const struct node *ask = node_get(root, "ask");
	unsigned families = 0;

	reader->out->plan.families = FAMILIES_ALL;
	if (!ask)
		return;
	for (enum family f = 0; f < FAMILY_COUNT; f++)
		names[f] = family_name(f);
	const struct node *first = node_list(root, "ask", reader->faults);
	if (!first && ask->kind == EVENT_LIST)
		node_fault(ask, reader->faults,
		           "`ask` is empty: leave it out where all is to be asked");
	for (const struct node *entry = first; entry; entry = entry->next) {
		int index = read_one_of(reader, entry, "family of tasks", names, FAMILY_COUNT);

		if (index >= 0 && families & 1u << index)
			node_fault(entry, reader->faults, "`%s` is there twice", entry->text);
		if (index >= 0)
			families |= 1u << index;
	}
	reader->out->plan.families = families;
}

/* A list of names, each once, with where it was written. */
static const char *const *read_names(struct quiz_reader *reader, const struct node *root,
                                     const char *key, size_t *count, struct span **span)
{
	const struct node *first = node_list(root, key, reader->faults);
	size_t most = node_count(first);
	const char **name = arena_take(&reader->out->arena, most * sizeof(*name));

	*span = arena_take(&reader->out->arena, most * sizeof(**span));
	*count = 0;
	for (const struct node *entry = first; entry && name && *span; entry = entry->next) {
		size_t i = 0;

		if (entry->kind != EVENT_SCALAR || !entry->text[0]) {
			node_fault(entry, reader->faults, "`%s` is a list of names", key);
			continue;
		}
		while (i < *count && strcmp(name[i], entry->text) != 0)
			i++;
		if (i < *count) {
			node_fault(entry, reader->faults, "`%.60s` is there twice", entry->text);
			continue;
		}
		(*span)[i] = entry->span;
		name[(*count)++] = entry->text;
	}
	return name;
}

void read_needs_house(struct quiz_reader *reader, const struct node *node, const char *what_is)
{
	if (!reader->out->survey && !reader->out->has_seed)
		node_fault(node, reader->faults,
		           "%s of a `survey`, or of a house invented from a fixed `seed`", what_is);
}

static void read_root(struct quiz_reader *reader, const struct node *root)
{
	static const char *const known[] = {
	        "quiz", "ref",     "title", "survey", "invent", "on",           "seed",      "mode",
	        "ask",  "minutes", "with",  "points", "count",  "pass_percent", "questions", NULL};
	struct quiz_file *out = reader->out;

	if (!node_is_map(root, "a quiz file", reader->faults) || !read_version(reader, root))
		return;
	node_known_keys(root, "a quiz file", known, reader->faults);
	out->ref = read_name(reader, root, "a quiz file", "ref");
	out->title = node_text(root, "title", reader->faults);
	read_house(reader, root);
	read_on(reader, root);
	read_sitting(reader, root);
	read_families(reader, root);
	out->plan.point =
	        read_names(reader, root, "points", &out->plan.point_count, &out->point_span);
	out->plan.with = read_names(reader, root, "with", &out->plan.with_count, &out->with_span);
	if (out->plan.point_count > 0)
		read_needs_house(reader, node_get(root, "points"), "`points` are");
	read_own_tasks(reader, root);
}

bool quiz_read(struct quiz_file *out, const struct source *source, struct faults *faults)
{
	struct quiz_reader reader = {.out = out, .faults = faults};
	size_t before = faults->fatal;

	*out = (struct quiz_file){0};
	const struct node *root = node_read(source, &reader.nodes, &out->arena, faults);
	if (root)
		read_root(&reader, root);
	else if (faults->fatal == before)
		fault_add(faults, SEVERITY_FAULT, source, (struct span){0, 0},
		          "this says nothing: a quiz file begins with `quiz: 1`");
	if (reader.nodes.failed || out->arena.failed)
		fault_add(faults, SEVERITY_FAULT, source, (struct span){0, 0},
		          "no memory for the quiz");
	arena_finish(&reader.nodes);
	return faults->fatal == before;
}

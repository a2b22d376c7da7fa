/* JSON is jansson's: it reads strictly, where a reader of YAML would take an unquoted or a shortened line for an answer, and
 * knows the escapes that other tools write; and it writes too. */
#include "reviews_line.h"

#include "tundish/base/date.h"
#include "tundish/store/reviews.h"

#include <jansson.h>

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* -- writing --------------------------------------------------------------------------------- */

static json_t *row_list(const struct review *review)
{
	json_t *list = json_array();

	for (size_t i = 0; list && i < review->row_count; i++) {
		if (json_array_append_new(list, json_string(review->row[i])) != 0) {
			json_decref(list);
			return NULL;
		}
	}
	return list;
}

/* A seed is a text: most readers of JSON round whole numbers past 2^53. */
char *review_line(const struct review *review)
{
	char seed[24];
	json_t *object, *rows = row_list(review);
	char *text;

	snprintf(seed, sizeof(seed), "%llu", (unsigned long long)review->seed);
	/* clang-format off */
	object = rows ? json_pack("{si ss ss ss ss? ss? ss si ss ss ss sb si sI ss ss ss? sO ss ss ss sI ss}",
		"format", REVIEW_FORMAT, "at", review->at, "learner", review->learner,
		"attempt", review->attempt, "quiz", review->quiz, "survey", review->survey,
		"seed", seed, "level", (int)review->level, "with", review->with,
		"rulebook", review->rulebook, "on", review->on, "exam", (int)review->exam,
		"pass_percent", (int)review->pass_percent, "tasks", (json_int_t)review->tasks,
		"item", review->item, "family", review->family, "topic", review->topic,
		"rows", rows, "given", review->given, "correct", review->correct,
		"grade", grade_name(review->grade), "ms", (json_int_t)review->ms,
		"scheduler", review->scheduler) : NULL;
	/* clang-format on */
	text = object ? json_dumps(object, JSON_COMPACT) : NULL;
	json_decref(object);
	json_decref(rows);
	if (text) {
		size_t length = strlen(text);
		char *longer = realloc(text, length + 2);

		if (!longer)
			free(text);
		else
			memcpy(longer + length, "\n", 2);
		text = longer;
	}
	return text;
}

/* -- reading --------------------------------------------------------------------------------- */

struct line {
	struct arena *arena;
	json_t *object;
	bool bad;
};

static const char *copied(struct line *line, const json_t *value)
{
	const char *text =
	        arena_copy(line->arena, json_string_value(value), json_string_length(value));

	line->bad |= !text;
	return text;
}

static const char *read_text(struct line *line, const char *key)
{
	json_t *value = json_object_get(line->object, key);

	if (json_is_string(value))
		return copied(line, value);
	line->bad = true;
	return NULL;
}

static const char *read_text_or_null(struct line *line, const char *key)
{
	return json_is_null(json_object_get(line->object, key)) ? NULL : read_text(line, key);
}

static uint64_t read_count(struct line *line, const char *key, uint64_t most)
{
	json_t *value = json_object_get(line->object, key);

	if (json_is_integer(value) && json_integer_value(value) >= 0 &&
	    (uint64_t)json_integer_value(value) <= most)
		return (uint64_t)json_integer_value(value);
	line->bad = true;
	return 0;
}

static uint64_t read_seed(struct line *line)
{
	const char *text = json_string_value(json_object_get(line->object, "seed"));
	unsigned long long value = 0;
	char again[24];

	/* What does not come out again as it went in is none: a sign, a blank, too many digits. */
	if (text && sscanf(text, "%llu", &value) == 1) {
		snprintf(again, sizeof(again), "%llu", value);
		if (strcmp(again, text) == 0)
			return value;
	}
	line->bad = true;
	return 0;
}

static void read_rows(struct line *line, struct review *out)
{
	json_t *list = json_object_get(line->object, "rows"), *value;
	size_t i;

	if (!json_is_array(list)) {
		line->bad = true;
		return;
	}
	out->row = arena_take(line->arena, json_array_size(list) * sizeof(*out->row));
	line->bad |= !out->row;
	json_array_foreach(list, i, value)
	{
		if (!json_is_string(value))
			line->bad = true;
		if (line->bad)
			return;
		out->row[out->row_count++] = copied(line, value);
	}
}

static enum grade read_grade(struct line *line)
{
	const char *text = json_string_value(json_object_get(line->object, "grade"));

	for (enum grade g = GRADE_DANGEROUS; text && g < GRADE_COUNT; g++)
		if (strcmp(grade_name(g), text) == 0)
			return g;
	line->bad = true;
	return GRADE_NONE;
}

static bool is_day(const char *text, size_t length)
{
	struct days days;

	return date_parse(text, length, &days) && days.first == days.last;
}

/* 2026-11-25T09:12:03Z: the day at its front is reckoned with. */
static bool is_time(const char *text)
{
	return strlen(text) == 20 && text[10] == 'T' && text[19] == 'Z' && is_day(text, 10);
}

static void read_fields(struct line *line, struct review *out)
{
	json_t *exam = json_object_get(line->object, "exam");

	out->at = read_text(line, "at");
	out->learner = read_text(line, "learner");
	out->attempt = read_text(line, "attempt");
	out->quiz = read_text_or_null(line, "quiz");
	out->survey = read_text_or_null(line, "survey");
	out->seed = read_seed(line);
	out->level = (unsigned)read_count(line, "level", 4);
	out->with = read_text(line, "with");
	out->rulebook = read_text(line, "rulebook");
	out->on = read_text(line, "on");
	line->bad |= !json_is_boolean(exam);
	out->exam = json_is_true(exam);
	out->pass_percent = (unsigned)read_count(line, "pass_percent", 100);
	out->tasks = (size_t)read_count(line, "tasks", UINT32_MAX);
	out->item = read_text(line, "item");
	out->family = read_text(line, "family");
	out->topic = read_text_or_null(line, "topic");
	read_rows(line, out);
	out->given = read_text(line, "given");
	out->correct = read_text(line, "correct");
	out->grade = read_grade(line);
	out->ms = (uint32_t)read_count(line, "ms", UINT32_MAX);
	out->scheduler = read_text(line, "scheduler");
	line->bad |= !out->at || !is_time(out->at) || !out->on || !is_day(out->on, strlen(out->on));
}

enum review_line_is review_line_read(const char *text, size_t length, struct arena *arena,
                                     struct review *out)
{
	struct line line = {arena, json_loadb(text, length, JSON_REJECT_DUPLICATES, NULL), false};
	json_t *format = json_object_get(line.object, "format");
	bool ours = json_is_integer(format) && json_integer_value(format) == REVIEW_FORMAT;
	bool newer = json_is_integer(format) && json_integer_value(format) > REVIEW_FORMAT;

	*out = (struct review){0};
	if (ours)
		read_fields(&line, out);
	json_decref(line.object);
	if (newer)
		return REVIEW_LINE_NEWER;
	return ours && !line.bad ? REVIEW_LINE_WHOLE : REVIEW_LINE_NONE;
}

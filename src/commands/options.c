#include "options.h"

#include "tundish/base/text.h"
#include "tundish/invent/invent.h"
#include "tundish/store/quiz_read.h"
#include "tundish/store/reviews.h"
#include "tundish/teach/quiz.h"

#include <inttypes.h>
#include <string.h>

const struct option_row option_rows[OPTION_COUNT] = {
#define OPTION_ROW(id, name, argument, help) {name, argument, help},
        OPTIONS(OPTION_ROW)
#undef OPTION_ROW
};

/* ORDER FORMAT */
static const char *const format_names[FORMAT_COUNT] = {"table", "csv", "ndjson", "text", "html"};
/* ORDER COLOR */
static const char *const color_names[COLOR_COUNT] = {"auto", "always", "never"};
/* ORDER THEME */
static const char *const theme_names[THEME_COUNT] = {"any", "mono", "light", "dark"};
/* ORDER UNSAVED */
static const char *const unsaved_names[UNSAVED_COUNT] = {"recover", "discard"};
/* ORDER MECHANISM */
static const char *const mechanism_words_given[MECHANISM_COUNT] = {"back_pressure",
                                                                   "back_siphonage"};
/* ORDER STANDING; one word each, unlike standing_name() */
static const char *const standing_words_given[STANDING_COUNT] = {"published", "common_practice",
                                                                 "memory"};

struct reading {
	uint64_t takes;
	unsigned formats;
	struct arena *arena;
	struct options *out;
	size_t rulebook_room, operand_room, with_room;
	struct err *err;
};

/* -- lists and words --------------------------------------------------------------------------- */

static bool append(struct reading *reading, const char ***list, size_t *count, size_t *room,
                   const char *text)
{
	const char **grown = arena_grow(reading->arena, *list, *count, room, sizeof(*grown));

	if (!grown) {
		err_set(reading->err, ERR_MEMORY, "no memory for the arguments");
		return false;
	}
	grown[(*count)++] = text;
	*list = grown;
	return true;
}

/* `table, csv or ndjson`. */
static const char *choice_words(struct arena *arena, const char *const *words, size_t count)
{
	const char *text = "";

	for (size_t i = 0; text && i < count; i++)
		text = arena_print(arena, "%s%s%s", text,
		                   i == 0           ? ""
		                   : i + 1 == count ? " or "
		                                    : ", ",
		                   words[i]);
	return text ? text : "";
}

/* @return the index of @p value, or -1 with err: one of a few words was expected. */
static int one_of(struct reading *reading, enum option_id id, const char *value,
                  const char *const *words, size_t count)
{
	for (size_t i = 0; i < count; i++) {
		if (strcmp(words[i], value) == 0)
			return (int)i;
	}
	err_set(reading->err, ERR_USAGE, "--%s %s is not known: it is %s", option_rows[id].name,
	        value, choice_words(reading->arena, words, count));
	return -1;
}

/* -- one option -------------------------------------------------------------------------------- */

static bool set_on(struct reading *reading, const char *value)
{
	struct days days;

	if (!date_parse(value, strlen(value), &days) || days.first != days.last) {
		err_set(reading->err, ERR_USAGE, "--on %s is not a day: write it as 2026-11-25",
		        value);
		return false;
	}
	reading->out->on = days.first;
	reading->out->on_given = true;
	return true;
}

/* Among those that the command has. */
static bool set_format(struct reading *reading, const char *value)
{
	const char *names[FORMAT_COUNT];
	enum format formats[FORMAT_COUNT];
	size_t count = 0;
	int index;

	for (enum format f = 0; f < FORMAT_COUNT; f++) {
		if (!(reading->formats & 1u << f))
			continue;
		formats[count] = f;
		names[count++] = format_names[f];
	}
	index = one_of(reading, OPTION_FORMAT, value, names, count);
	reading->out->format_given = true;
	if (index >= 0)
		reading->out->format = formats[index];
	return index >= 0;
}

static bool set_color(struct reading *reading, const char *value)
{
	int index = one_of(reading, OPTION_COLOR, value, color_names, COLOR_COUNT);

	if (index >= 0)
		reading->out->color = (enum color)index;
	return index >= 0;
}

static bool set_theme(struct reading *reading, const char *value)
{
	int index = one_of(reading, OPTION_THEME, value, theme_names, THEME_COUNT);

	if (index >= 0)
		reading->out->theme = (enum screen_theme)index;
	return index >= 0;
}

/* Category 1 is wholesome: nothing has to stand in its way. */
static bool set_for(struct reading *reading, const char *value)
{
	if (value[0] <= '0' + CATEGORY_LEAST || value[0] > '0' + CATEGORY_MOST || value[1]) {
		err_set(reading->err, ERR_USAGE,
		        "--for %s is not a fluid category to protect against: it is 2, 3, 4 or 5",
		        value);
		return false;
	}
	reading->out->category = (uint8_t)(value[0] - '0');
	return true;
}

static bool set_mechanism(struct reading *reading, const char *value)
{
	int index =
	        one_of(reading, OPTION_MECHANISM, value, mechanism_words_given, MECHANISM_COUNT);

	if (index >= 0)
		reading->out->mechanism = (enum mechanism)index;
	reading->out->mechanism_given = true;
	return index >= 0;
}

static bool set_standing(struct reading *reading, const char *value)
{
	int index = one_of(reading, OPTION_STANDING, value, standing_words_given, STANDING_COUNT);

	if (index >= 0)
		reading->out->standing = (enum standing)index;
	reading->out->standing_given = true;
	return index >= 0;
}

static bool set_unsaved(struct reading *reading, const char *value)
{
	int index = one_of(reading, OPTION_UNSAVED, value, unsaved_names, UNSAVED_COUNT);

	if (index >= 0)
		reading->out->unsaved = (enum unsaved)index;
	return index >= 0;
}

/* Digits only, so that what was printed is what was meant. */
static bool whole_number(struct reading *reading, enum option_id id, const char *value,
                         uint64_t least, uint64_t most, uint64_t *out)
{
	size_t digits = strspn(value, "0123456789");
	uint64_t number = 0;
	bool fits = digits > 0 && value[digits] == '\0';

	for (size_t i = 0; fits && i < digits; i++) {
		uint64_t digit = (uint64_t)(value[i] - '0');

		fits = number <= (UINT64_MAX - digit) / 10;
		number = number * 10 + digit;
	}
	if (fits && number >= least && number <= most) {
		*out = number;
		return true;
	}
	err_set(reading->err, ERR_USAGE,
	        "--%s %s is not a whole number from %" PRIu64 " to %" PRIu64, option_rows[id].name,
	        value, least, most);
	return false;
}

static bool set_small(struct reading *reading, enum option_id id, const char *value, uint64_t most,
                      unsigned *out)
{
	uint64_t number;

	if (!whole_number(reading, id, value, 1, most, &number))
		return false;
	*out = (unsigned)number;
	return true;
}

static bool set_with(struct reading *reading, const char *value)
{
	struct options *out = reading->out;

	/* Nothing at all says that nothing is wanted first. */
	out->with_given = true;
	while (*value) {
		size_t length = strcspn(value, ", ");
		const char *id = arena_copy(reading->arena, value, length);

		if (length > 0 && (!id || !append(reading, &out->with, &out->with_count,
		                                  &reading->with_room, id)))
			return false;
		value += length;
		value += strspn(value, ", ");
	}
	return true;
}

/* -- of quizzes -------------------------------------------------------------------------------- */

static bool set_ask(struct reading *reading, const char *value)
{
	const char *names[FAMILY_COUNT];

	for (enum family f = 0; f < FAMILY_COUNT; f++)
		names[f] = family_name(f);
	do {
		size_t length = strcspn(value, ",");
		const char *word = arena_copy(reading->arena, value, length);
		int index = one_of(reading, OPTION_ASK, word ? word : "", names, FAMILY_COUNT);

		if (index < 0)
			return false;
		reading->out->families |= 1u << index;
		value += length;
	} while (*value++);
	return true;
}

static bool set_mode(struct reading *reading, const char *value)
{
	static const char *const modes[] = {"practice", "exam"};
	int index = one_of(reading, OPTION_MODE, value, modes, 2);

	reading->out->mode_given = true;
	reading->out->exam = index == 1;
	return index >= 0;
}

static bool set_tasks(struct reading *reading, const char *value)
{
	unsigned count = 0;
	bool ok = set_small(reading, OPTION_TASKS, value, TASKS_MOST, &count);

	reading->out->tasks = count;
	return ok;
}

static bool set_learner(struct reading *reading, const char *value)
{
	const char *why = learner_fault(value);

	if (why)
		err_set(reading->err, ERR_USAGE, "--learner: %s", why);
	reading->out->learner = value;
	return !why;
}

static bool set(struct reading *reading, enum option_id id, const char *value)
{
	struct options *out = reading->out;

	switch (id) {
	case OPTION_ON:
		return set_on(reading, value);
	case OPTION_RULEBOOK:
		return append(reading, &out->rulebook, &out->rulebook_count,
		              &reading->rulebook_room, value);
	case OPTION_FORMAT:
		return set_format(reading, value);
	case OPTION_COLOR:
		return set_color(reading, value);
	case OPTION_ASCII:
		out->ascii = true;
		break;
	case OPTION_FOR:
		return set_for(reading, value);
	case OPTION_MECHANISM:
		return set_mechanism(reading, value);
	case OPTION_STANDING:
		return set_standing(reading, value);
	case OPTION_COUNTS:
		out->counts = true;
		break;
	case OPTION_SCHEMA:
		out->schema = true;
		break;
	case OPTION_THEME:
		return set_theme(reading, value);
	case OPTION_PLAIN:
		out->plain = true;
		break;
	case OPTION_READ_ONLY:
		out->read_only = true;
		break;
	case OPTION_UNSAVED:
		return set_unsaved(reading, value);
	case OPTION_BETWEEN:
		out->between = value;
		break;
	case OPTION_CHAIN:
		out->chain = true;
		break;
	case OPTION_EXPECT_HEAD:
		out->expect_head = value;
		break;
	case OPTION_WHO:
		out->who = value;
		break;
	case OPTION_WHY:
		out->why = value;
		break;
	case OPTION_ADOPT:
		out->adopt = true;
		break;
	case OPTION_SEED:
		out->seed_given = true;
		return whole_number(reading, id, value, 0, UINT64_MAX, &out->seed);
	case OPTION_ROOMS:
		return set_small(reading, id, value, INVENT_ROOMS_MOST, &out->rooms);
	case OPTION_POINTS:
		return set_small(reading, id, value, INVENT_POINTS_MOST, &out->points);
	case OPTION_PREMISES:
		out->premises = value;
		break;
	case OPTION_LEVEL:
		return set_small(reading, id, value, LEVEL_MOST, &out->level);
	case OPTION_WITH:
		return set_with(reading, value);
	case OPTION_TASKS:
		return set_tasks(reading, value);
	case OPTION_ASK:
		return set_ask(reading, value);
	case OPTION_MODE:
		return set_mode(reading, value);
	case OPTION_MINUTES:
		return set_small(reading, id, value, QUIZ_MINUTES_MOST, &out->minutes);
	case OPTION_LEARNER:
		return set_learner(reading, value);
	case OPTION_PROGRESS:
		out->progress = true;
		break;
	case OPTION_ANSWERS:
		out->answers = true;
		break;
	case OPTION_SCORES:
		out->scores = true;
		break;
	case OPTION_HELP:
		out->help = true;
		break;
	case OPTION_VERSION:
		out->version = true;
		break;
	case OPTION_COUNT:
		break;
	}
	return true;
}

/* -- which option ------------------------------------------------------------------------------ */

static enum option_id known_option(const char *name, size_t length)
{
	enum option_id id = 0;

	while (id < OPTION_COUNT && (strlen(option_rows[id].name) != length ||
	                             strncmp(option_rows[id].name, name, length) != 0))
		id++;
	return id;
}

static void unknown_option(struct reading *reading, const char *name, size_t length)
{
	const char *words[OPTION_COUNT];
	size_t count = 0;

	for (enum option_id id = 0; id < OPTION_COUNT; id++) {
		if (reading->takes >> id & 1)
			words[count++] = option_rows[id].name;
	}
	const char *copy = arena_copy(reading->arena, name, length);
	const char *nearest = copy ? text_nearest(copy, words, count) : NULL;
	if (nearest)
		err_set(reading->err, ERR_USAGE, "--%s is not an option here; did you mean --%s?",
		        copy, nearest);
	else
		err_set(reading->err, ERR_USAGE, "--%.*s is not an option here", (int)length, name);
}

/* `--name`, `--name=value`, or `--name value`: then @p next is the value and is used up. */
static bool long_option(struct reading *reading, const char *text, const char *next,
                        bool *used_next)
{
	size_t length = strcspn(text, "=");
	const char *value = text[length] ? text + length + 1 : NULL;
	enum option_id id = known_option(text, length);

	if (id == OPTION_COUNT || !(reading->takes >> id & 1)) {
		unknown_option(reading, text, length);
		return false;
	}
	if (!option_rows[id].argument && value) {
		err_set(reading->err, ERR_USAGE, "--%s takes no value", option_rows[id].name);
		return false;
	}
	if (option_rows[id].argument && !value) {
		value = next;
		*used_next = true;
	}
	if (option_rows[id].argument && !value) {
		err_set(reading->err, ERR_USAGE, "--%s wants a value: --%s %s",
		        option_rows[id].name, option_rows[id].name, option_rows[id].argument);
		return false;
	}
	return set(reading, id, value);
}

bool options_read(int count, char *const *argument, uint64_t takes, unsigned formats,
                  struct arena *arena, struct options *out, struct err *err)
{
	struct reading reading = {
	        .takes = takes, .formats = formats, .arena = arena, .out = out, .err = err};
	bool ended = false;

	*out = (struct options){.unsaved = UNSAVED_ASK};
	for (int i = 0; i < count; i++) {
		const char *text = argument[i];
		bool used_next = false, ok = true;
		if (ended || text[0] != '-' || strcmp(text, "-") == 0) {
			ok = append(&reading, &out->operand, &out->operand_count,
			            &reading.operand_room, text);
		} else if (strcmp(text, "--") == 0) {
			ended = true;
		} else if (strcmp(text, "-h") == 0) {
			out->help = true;
		} else if (text[1] == '-') {
			ok = long_option(&reading, text + 2, i + 1 < count ? argument[i + 1] : NULL,
			                 &used_next);
		} else {
			err_set(err, ERR_USAGE,
			        "%s is not an option here; for a file of that name write ./%s",
			        text, text);
			ok = false;
		}
		if (!ok)
			return false;
		i += used_next;
	}
	return true;
}

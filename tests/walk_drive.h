/*
 * Drives a walk with words for keys, on the small fixed rulebook with what lies over it, and shows its screen as text.
 */
#ifndef TUNDISH_TESTS_WALK_DRIVE_H
#define TUNDISH_TESTS_WALK_DRIVE_H

#include "tundish/base/text.h"
#include "tundish/store/rulebook_read.h"
#include "tundish/walk/host.h"

#include "texts.h"

#include <check.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

struct drive {
	struct survey survey;
	struct walk *walk;
	struct screen screen;
	size_t committed, saves, saves_as, leaves; /* effects seen */
	char saved_as[256];
	enum walk_leaving leaving;
	bool save_fails;
	const struct walk_host *host; /* who carries out effects; NULL: they are only counted */
	struct survey *replay; /* made by what was committed alone; NULL: not wanted */
};

/* From nothing to the form of a kitchen mixer, on its first question that matters. */
#define KITCHEN "Esc End Enter \"Kitchen\" Enter "
#define MIXER   KITCHEN "a Enter \"kit\" Enter "
/* On what is fitted on its cold inlet. */
#define TO_FITTED MIXER "1 Space 2 Space "

static struct rulebook drive_book;
static struct source drive_overlay;

/* Read once, before the tests fork. */
static void drive_load(void)
{
	static char over[1 << 14];
	const struct source *sources[] = {small_book(), &drive_overlay};
	struct arena arena = {0};
	struct faults faults;

	drive_overlay = text_of(TUNDISH_TESTS "/rulebook/walk.yaml", over, sizeof(over));
	faults_init(&faults, &arena);
	ck_assert_msg(rulebook_read(&drive_book, sources, 2, date_day(2026, 11, 25), &faults),
	              "the small rulebook has a fault: %s",
	              faults.count > 0 ? faults.item[0].message : "?");
	arena_finish(&arena);
}

static void drive_unload(void)
{
	rulebook_finish(&drive_book);
}

static void drive_begin_with(struct drive *drive, int rows, int cols,
                             const struct walk_options *options)
{

	memset(drive, 0, sizeof(*drive));
	ck_assert(survey_init(&drive->survey, &drive_book));
	ck_assert(screen_init(&drive->screen, rows, cols));
	drive->walk = walk_create(&drive->survey, options);
	ck_assert_ptr_nonnull(drive->walk);
}

static inline void drive_begin(struct drive *drive, int rows, int cols, bool fresh)
{
	drive_begin_with(drive, rows, cols,
	                 &(struct walk_options){.name = "elm_row.yaml", .fresh = fresh, .ascii = true});
}

static void drive_end(struct drive *drive)
{
	walk_destroy(drive->walk);
	screen_finish(&drive->screen);
	survey_finish(&drive->survey);
}

static void drive_replay(struct drive *drive, const struct changes *changes)
{
	for (size_t i = 0; drive->replay != NULL && i < changes->count; i++) {
		struct err err = {0};

		ck_assert_msg(survey_apply(drive->replay, &changes->item[i], &err), "replay: %s",
		              err.message);
	}
}

static void drive_effects(struct drive *drive)
{
	struct walk_effect effect;

	while (walk_next_effect(drive->walk, &effect)) {
		if (drive->host != NULL)
			walk_host_carry_out(drive->host, drive->walk, &effect);
		switch (effect.form) {
		case WALK_COMMITTED:
			drive->committed++;
			drive_replay(drive, &effect.changes);
			break;
		case WALK_SAVE:
			drive->saves++;
			if (drive->host == NULL)
				walk_saved(drive->walk, !drive->save_fails,
			           drive->save_fails ? "the disk is full." : NULL);
			break;
		case WALK_SAVE_AS:
			drive->saves_as++;
			snprintf(drive->saved_as, sizeof(drive->saved_as), "%s", effect.path);
			walk_saved(drive->walk, !drive->save_fails,
			           drive->save_fails ? "it is there already." : NULL);
			break;
		case WALK_LEAVE:
			drive->leaves++;
			drive->leaving = effect.leaving;
			break;
		case WALK_SHOWN:
		case WALK_ANSWERED:
		case WALK_MONO:
		case WALK_HANDED_IN:
			break;
		}
	}
}

/* Each key is drawn too: nothing that a person could see may depend on being drawn or not. */
static void drive_key(struct drive *drive, const struct walk_key *key)
{
	walk_press(drive->walk, key);
	drive_effects(drive);
	walk_draw(drive->walk, &drive->screen);
}

static const char *drive_typed(struct drive *drive, const char *text)
{
	while (*text != '\0' && *text != '"') {
		size_t bytes = text_cluster(text, strcspn(text, "\""), NULL);

		drive_key(drive, &(struct walk_key){WALK_KEY_TEXT, text, bytes});
		text += bytes;
	}
	ck_assert_msg(*text == '"', "a quote is not closed");
	return text + 1;
}

/* Words of walk_key_named(); "in quotes" is typed, character by character. */
static inline void drive(struct drive *drive, const char *keys)
{
	walk_draw(drive->walk, &drive->screen);
	while (*(keys += strspn(keys, " \n")) != '\0') {
		size_t length = strcspn(keys, " \n");
		struct walk_key key;

		if (*keys == '"') {
			keys = drive_typed(drive, keys + 1);
			continue;
		}
		ck_assert_msg(walk_key_named(keys, length, &key), "`%.*s` is no key", (int)length,
		              keys);
		drive_key(drive, &key);
		keys += length;
	}
}

/* The lines of the screen, the cursor marked on a line of its own below. To be freed. */
static char *drive_text(const struct drive *drive)
{
	const struct screen *screen = &drive->screen;
	size_t line = (size_t)screen->cols * SCREEN_CLUSTER_MOST + 2;
	char *text = malloc(((size_t)screen->rows + 1) * line + 1);
	size_t length = 0;

	ck_assert_ptr_nonnull(text);
	for (int row = 0; row < screen->rows; row++) {
		length += screen_line(screen, row, text + length);
		text[length++] = '\n';
		if (row != screen->cursor_row)
			continue;
		for (int col = 0; col < screen->cursor_col; col++)
			text[length++] = ' ';
		text[length++] = '^';
		text[length++] = '\n';
	}
	text[length] = '\0';
	return text;
}

/* All that a survey says, as the changes that would make it from nothing: a line each. */
static inline char *drive_says(const struct survey *survey)
{
	struct survey empty;
	struct changes changes = {0};
	struct arena arena = {0};
	size_t size = 1, length = 0;
	char *text;

	ck_assert(survey_init(&empty, &drive_book));
	ck_assert(survey_compare(&empty, survey, &arena, &changes));
	for (size_t i = 0; i < changes.count; i++)
		size += strlen(changes.item[i].where) + strlen(changes.item[i].after) + 3;
	text = malloc(size);
	ck_assert_ptr_nonnull(text);
	text[0] = '\0';
	for (size_t i = 0; i < changes.count; i++)
		length += (size_t)snprintf(text + length, size - length, "%s=%s\n",
		                           changes.item[i].where, changes.item[i].after);
	survey_finish(&empty);
	arena_finish(&arena);
	return text;
}

static inline bool drive_shows(const struct drive *drive, const char *words)
{
	char *text = drive_text(drive);
	bool shown = strstr(text, words) != NULL;

	free(text);
	return shown;
}

#define drive_expect(drive, words, title)                                                          \
	do {                                                                                       \
		if (!drive_shows(drive, words)) {                                                  \
			char *text_ = drive_text(drive);                                           \
			ck_abort_msg("%s: \"%s\" is not on\n%s", title, words, text_);             \
		}                                                                                  \
	} while (0)

#endif

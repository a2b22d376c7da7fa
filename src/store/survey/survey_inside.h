/**
 * @file
 * What the parts of the survey's reader share: survey_read.c has the sections, survey_item.c and survey_inlet.c descend into
 * items, survey_value.c reads answers, survey_feed.c looks at what names something else once all is there.
 */
#ifndef TUNDISH_STORE_SURVEY_INSIDE_H
#define TUNDISH_STORE_SURVEY_INSIDE_H

#include "../yaml/events.h"
#include "tundish/assess/survey.h"

/** An answer as written. What is wrong with its form is a fault only where somebody asks for it. */
struct value {
	enum { VALUE_FINE, VALUE_IS_MAP, VALUE_NO_WORDS } form;
	const char *text; /* NUL-terminated; a list joined by ", " */
	size_t length;    /* 0: nothing was said */
	struct span span;
	bool several; /* a list of more than one */
};

/** An answer that waits for the kind or type that asks its question: the order of keys is free. */
struct aside {
	struct item *item;
	const char *at;
	struct key key;
	struct value value;
};

/** An answer that names another item: looked at when all are read. */
struct reference {
	struct item *item;
	question_index question;
};

struct survey_reader {
	struct survey *survey;
	const struct rulebook *book;
	struct faults *faults;
	struct events events;
	struct aside *aside;
	size_t aside_count, aside_room;
	struct reference *reference;
	size_t reference_count, reference_room;
	struct err err; /* of the value at hand */
	bool version_said;
	bool no_memory;
};

/** A part, branch, room, point, protection, test or action being read. */
struct open {
	struct item *item; /* NULL until its first key; not in the tree before its `ref` is known */
	struct item *parent;
	enum scope scope;
	bool named;         /* its `ref` was read, good or bad */
	struct item *inlet; /* what a kind with one inlet says on the point itself */
	struct span inlet_key;
	uint32_t at;
	size_t asides_from, references_from, fatal_from;
};

/* survey_item.c */

/** The items of one scope below @p parent: the value at hand is their list. An empty value is none. */
void read_items(struct survey_reader *reader, struct item *parent, enum scope scope);
/** NULL: it has none. */
const struct item *last_child(const struct item *parent);
/** Room for what most items of a scope have. */
void make_room(struct survey_reader *reader, struct item *item);

/* survey_inlet.c */

/** `protection:` of an inlet, a branch, or the supply: a list, or a word. */
void read_protection(struct survey_reader *reader, struct item *holder);
/** `inlets:` of a point. */
void read_inlets(struct survey_reader *reader, struct item *point);
/** A kind with one inlet says on the point what others say under `inlets`. Its kind may come later... */
void read_only_inlet(struct survey_reader *reader, struct open *open, const struct key *key);
/** ... and is known now, if ever. */
void name_only_inlet(struct survey_reader *reader, struct open *open);
/** Notice the inlets that its kind does not have. */
void check_inlets(struct survey_reader *reader, const struct item *point);

/* survey_value.c */

/** The value at hand belongs to @p key in the map @p at of @p item. */
void read_answer(struct survey_reader *reader, struct item *item, const char *at,
                 const struct key *key);
/** All answers of the map at hand. An empty value is none. */
void read_answers(struct survey_reader *reader, struct item *item, const char *at);
/** The name of a map that holds answers of a scope, or NULL where the key is none. */
const char *map_of_answers(const struct survey_reader *reader, enum scope scope,
                           const struct key *key);
/**
 * The kind or type of @p item is as known as it gets: give the answers from @p from on to whom they
 * belong.
 * @p quiet  say nothing of those that nobody asks.
 */
void settle_asides(struct survey_reader *reader, struct item *item, size_t from, bool quiet);
/** There is no memory: nothing more is read. */
void reader_starves(struct survey_reader *reader);

/** A fault, or a notice, in the survey's text. */
#define survey_fault(reader, place, ...)                                                           \
	fault_add((reader)->faults, SEVERITY_FAULT, (reader)->survey->source, (place), __VA_ARGS__)
#define survey_notice(reader, place, ...)                                                          \
	fault_add((reader)->faults, SEVERITY_NOTICE, (reader)->survey->source, (place), __VA_ARGS__)

/* survey_feed.c */

/** Hold what names something against what is there; feeds must not loop. */
void check_references(struct survey_reader *reader);

#endif

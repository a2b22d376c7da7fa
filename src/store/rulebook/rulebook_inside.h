/**
 * @file
 * What the parts of the rulebook's reader share. Texts become trees (node.h), trees are merged into
 * one list of raw kinds, types, questions and rows (rulebook_merge.c), and those become structs.
 */
#ifndef TUNDISH_STORE_RULEBOOK_INSIDE_H
#define TUNDISH_STORE_RULEBOOK_INSIDE_H

#include "../yaml/node.h"
#include "tundish/assess/weights.h"

/** A row as written, and where it belongs. */
struct raw_row {
	const struct node *node;
	const char *fluid; /* of a kind: the id of its fluid; NULL: a circumstance */
	bool otherwise;
};

struct raw_rows {
	struct raw_row *item;
	size_t count, room;
};

/** A kind, a type or a shared question. */
struct raw_thing {
	const struct node *node;
	const char *id;
	const struct node *was; /* the first of the ids that it had before, or NULL */
	enum scope scope;       /* of a question */
	struct raw_rows rows;   /* of a kind or a type */
	struct raw_rows series;
};

struct raw_things {
	struct raw_thing *item;
	size_t count, room;
};

struct reader {
	struct rulebook *book;
	struct faults *faults;
	const struct source *const *texts; /* in the order of reading */
	size_t text_count;
	struct arena *scratch; /* for what ends with reading */
	struct raw_things questions, kinds, types, dropped_kinds, dropped_types;
	struct raw_rows urgency, raise;
	struct raw_things sites, rooms; /* of `invent:` */
	struct raw_rows often;
	size_t question_room;
	size_t shared_count; /* the first questions of the book: those of its `questions:` lists */
	bool *everywhere;    /* one a shared question */
	bool no_memory;
};

/** Whose names a condition may use. */
enum owner { OWNER_KIND, OWNER_TYPE, OWNER_URGENCY, OWNER_PLACE };

struct sight {
	enum owner owner;
	const char *id;                 /* of the kind or type; for messages */
	const question_index *question; /* its list */
	size_t question_count;
};

#define LENGTH_OF(array) (sizeof(array) / sizeof((array)[0]))

/* rulebook_merge.c */

/** Take one text up: drops first, then what it defines, each in place of an earlier one of the same
 * id. */
void merge_text(struct reader *reader, const struct node *root);
/** Whether @p id is, or by `was:` was, the id of @p node. */
bool raw_is(const struct node *node, const char *id);
bool thing_is(const struct raw_thing *thing, const char *id);
bool is_builtin(const struct source *text);
/** Whether two texts are one book: the same text, or both built in. */
bool same_book(const struct source *one, const struct source *other);
bool is_among(const struct raw_things *things, const char *id);

/* rulebook_question.c */

/** Make all shared questions. */
void read_shared_questions(struct reader *reader);
/**
 * Make the list of a kind's or type's questions, and the questions that are its own.
 * @p scope  of those that do not say: point or protection.
 */
void read_own_questions(struct reader *reader, const struct node *owner, const char *owner_id,
                        enum scope scope, question_index **out, size_t *out_count);
/** The shared question of a scope with that id, or QUESTION_NONE. */
question_index shared_question(const struct reader *reader, enum scope scope, const char *id);
/** Put a question at the end of a list, unless it is there. */
void asking_add(struct reader *reader, question_index **list, size_t *count, size_t *room,
                question_index question);

/* rulebook_measure.c */

/** `measured:` of a question. @p list: whose numbers of that scope it may use. NULL after a fault. */
struct measure *read_measure(struct reader *reader, const struct node *node, enum scope scope,
                             const question_index *list, size_t list_count);

/* rulebook_condition.c */

/** The map of conditions under @p key, as `when:` is one. @return NULL for none, and after a fault.
 */
struct condition *read_condition(struct reader *reader, const struct sight *sight,
                                 const struct node *map, const char *key);
/** A condition of the reader's own: the choice @p question is its option @p cell. NULL when there
 * is no memory. */
struct condition *condition_of_option(struct reader *reader, question_index question, unsigned cell,
                                      struct span span);

/* rulebook_row.c */

/** A well-formed id, or NULL after a fault. @p capitals: may it have them? */
const char *read_id(struct reader *reader, const struct node *node, const char *what,
                    bool capitals);
/** A text that must be there, else a fault on the whole of @p node. Never NULL. */
const char *read_needed(struct reader *reader, const struct node *node, const char *what,
                        const char *key);
/** `source` and `standing`, and whether they go together. */
void read_standing(struct reader *reader, const struct node *node, const char *what,
                   const char **source_text, enum standing *standing);
/** One figure, or one for each mechanism. What is not said stays as it is. @return whether both
 * were said. */
bool read_figures(struct reader *reader, const struct node *node, const char *key,
                  uint8_t out[MECHANISM_COUNT]);
/** A list of ids or words, as `was:` and `also:` are. NULL for none. */
const char **read_words(struct reader *reader, const struct node *node, const char *key,
                        size_t *count);
/** `usual:` of a kind, whose types need not be made yet. */
void read_usual(struct reader *reader, const struct node *node, struct kind *kind);

void read_kind_rows(struct reader *reader, const struct raw_thing *raw, struct kind *kind);
void read_type_rows(struct reader *reader, const struct raw_thing *raw, struct type *type);
void read_series(struct reader *reader, const struct raw_thing *raw, struct type *type);
void read_urgency(struct reader *reader);

/* rulebook_weights.c */

/** `invent:`, when kinds and types are made. */
void read_weights(struct reader *reader);
/** What is weighed in a map, key by key; NULL after a fault, or for none. */
const struct node *weighed_map(struct reader *reader, const struct node *map, const char *key);
size_t node_children(const struct node *node);
/** A weight: a whole number from 0 to WEIGHT_MOST. 0 after a fault. */
unsigned read_weight(struct reader *reader, const struct node *node);
/** The kind or type with that id; INDEX_NONE where there is none: a fault, unless it was dropped. */
uint16_t named_kind(struct reader *reader, const struct node *node, const char *id,
                    struct span place);
uint16_t named_type(struct reader *reader, const struct node *node, const char *id,
                    struct span place);
/** The cell of a choice or a yes/no with that id; -1 where there is none: a fault, unless the
 * question was written anew since. */
int named_cell(struct reader *reader, question_index question, const struct node *node,
               const char *id, struct span place);
/** Whether @p text was read after @p node's: what it says anew may have done away with what the
 * node names. */
bool read_since(const struct reader *reader, const struct source *text, const struct node *node);

/* rulebook_often.c */

void read_often(struct reader *reader, struct weights *weights);

/** Memory that lives as long as the book. NULL, and noted, when there is none. */
void *reader_take(struct reader *reader, size_t size);

#endif

/*
 * What the files of src/plain share.
 *
 *     plain.c   a line becomes keys: commands and requests
 *     answer.c  and answers
 *     words.c   what a line means
 *     tell.c     what is said: messages, where we are, the question
 *     task.c    of a quiz: the task and its answer
 *     run.c     lines from a descriptor, signals
 */
#ifndef TUNDISH_SRC_PLAIN_INSIDE_H
#define TUNDISH_SRC_PLAIN_INSIDE_H

#include "tundish/plain/plain.h"
#include "tundish/walk/tell.h"

enum { SAID_MOST = 400 };

/** Something said once and not again until it changes. */
struct said {
	char text[SAID_MOST];
};

struct plain {
	struct walk *walk;
	const struct walk_host *host;
	struct plain_options options;
	struct sink *out;
	struct arena own;   /* holds this struct */
	struct arena arena; /* forgotten at each line */
	struct said title, head, note, verdict, message, asked, list;
	struct said task, told; /* of a quiz: which task, and what was said to its answer */
	enum context context; /* of the last question */
	size_t shown;  /* of a list, how many were to choose from when it was last read out */
	size_t marked; /* of it, which was when it was last spoken of */
	bool unknown;  /* the last name said was that of nothing */
	bool left;
	enum walk_leaving leaving;
};

/* plain.c */

/** Press the first of its keys. What the walk has to say to it is said at once. */
void press_request(struct plain *plain, enum request request);
/** Give a text as if it were pasted: never a command. */
void paste(struct plain *plain, const char *text);
/** Whether the walk is in one of these contexts, and not left. */
bool is_in(const struct plain *plain, unsigned contexts);

/* answer.c */

/** Take or tick what is named; a name that several share leaves these to choose from. */
void answer_list(struct plain *plain, const char *text);
/** Type it in the open field, whole or not at all. */
void answer_field(struct plain *plain, const char *text);
/** Answer the focused line. */
void answer_form(struct plain *plain, const char *text);
/** Whether the focused line, or the task, takes the text before the command that it is too. */
bool is_answer_first(struct plain *plain, const char *text, enum request request);

/* words.c */

/** What only the plain walk has a word for. */
enum command {
	COMMAND_NONE, /* none of these */
	COMMAND_BACK,
	COMMAND_JUMP,
	COMMAND_LIST,
	COMMAND_QUIT,
	COMMAND_HELP,
	COMMAND_SAVE,
};

/** @p number  out: of COMMAND_JUMP. */
enum command command_of(const char *text, size_t *number);
/** The request that a word or a key asks for in a context, or REQUEST_NONE. */
enum request request_of_word(const char *text, enum context context);
/** "pick 3": the request of such a word, and its number, 0 where it lacks one; or REQUEST_NONE. */
enum request numbered_request(const char *text, enum context context, size_t *number);
/** "12": its value; else 0. */
size_t number_of(const char *text);
bool same_word(const char *a, const char *b);
/** The only one of @p count choices whose label begins with a text, from 1; 0: none, or several. */
size_t choice_begun(const struct told_choice *choice, size_t count, const char *text);
/** The one of @p count choices that a text names outright: its number here, its id or its label,
 * from 1; 0: none. */
size_t choice_named(const struct told_choice *choice, size_t count, const char *text);
/** "1, 3": numbers of at most @p most. @return how many, 0 where it is anything else. */
size_t numbers_of(const char *text, size_t *number, size_t most);

/* task.c */

/** The task as far as it is new, and what is said to its answer. */
void tell_task(struct plain *plain);
/** Answer it. */
void answer_task(struct plain *plain, const char *text);
/** Whether one of its choices is named outright. */
bool is_choice_of_task(struct plain *plain, const char *text);
void go_to_task(struct plain *plain, size_t number);
/** Whether a verdict stands in its place. */
bool is_lesson(struct plain *plain);

/* tell.c */

/** Whether it was not what was said last; then it is from now on. */
bool is_new(struct said *said, const char *text);

/** One line; what a terminal could take for a command to itself is shown as `?`. */
void tell_line(struct plain *plain, int indent, const char *text);
void tell(struct plain *plain, const char *format, ...) __attribute__((format(printf, 2, 3)));
/** What the walk has to say after a key, once. */
void tell_message(struct plain *plain);
void tell_texts(struct plain *plain, struct told_texts texts);
/** Where we are, as far as it is new, and what is asked now. */
void tell_where(struct plain *plain);
/** All that is here: the house, the form, the list. */
void tell_all(struct plain *plain);
void tell_verdict(struct plain *plain);
void tell_help(struct plain *plain, enum context context);

#endif

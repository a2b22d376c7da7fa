/**
 * @file
 * What the parts of the quiz file's reader share: quiz_read.c has the keys at its top, quiz_question.c the trainer's own
 * questions, quiz_names.c holds names against the rulebook and the survey.
 */
#ifndef TUNDISH_STORE_QUIZ_INSIDE_H
#define TUNDISH_STORE_QUIZ_INSIDE_H

#include "../yaml/node.h"
#include "tundish/store/quiz_read.h"

struct quiz_reader {
	struct quiz_file *out;
	struct faults *faults;
	struct arena nodes; /* for what ends with reading */
};

/** `questions:` of the file. */
void read_own_tasks(struct quiz_reader *reader, const struct node *root);

/** A well-formed id or ref under @p key, which must be there: "WHAT needs an `id`". NULL after a fault. */
const char *read_name(struct quiz_reader *reader, const struct node *node, const char *what,
                      const char *key);

/** How many entries a list has, from its first on. */
size_t node_count(const struct node *first);

/** Which of @p words (@p count of them) @p value is; -1 after a fault: "`x` is no WHAT: did you mean `y`?". */
int read_one_of(struct quiz_reader *reader, const struct node *value, const char *what,
                const char *const *words, size_t count);

/** A number that must be there. @return false after a fault. */
bool read_decimal(struct quiz_reader *reader, const struct node *map, const char *key, double *out);

/** A fault at @p node where nobody can know of which house it speaks: "WHAT_IS of a `survey`...". */
void read_needs_house(struct quiz_reader *reader, const struct node *node, const char *what_is);

#endif

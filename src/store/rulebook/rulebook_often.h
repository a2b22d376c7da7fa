/**
 * @file
 * One entry of `often` while it is read. What it says of answers is in rulebook_often_answers.c, of pipes in
 * rulebook_often_pipes.c.
 */
#ifndef TUNDISH_STORE_RULEBOOK_OFTEN_H
#define TUNDISH_STORE_RULEBOOK_OFTEN_H

#include "rulebook_inside.h"

struct weighing {
	struct reader *reader;
	struct often *often;
	struct sight sight;
	const char *name;        /* of what it is about */
	const struct node *node; /* the whole entry */
};

/** Whether it is of one kind. */
bool weighs_kind(const struct weighing *weighing);
/** Whether what it is of was written anew since: then what it names may be no more, and that is no fault. */
bool weighs_outdated(const struct weighing *weighing);

void weigh_answers(struct weighing *weighing);
void weigh_protection(struct weighing *weighing);
void weigh_makes(struct weighing *weighing);
void weigh_fed_by(struct weighing *weighing);
void weigh_from(struct weighing *weighing);
void weigh_on(struct weighing *weighing);

#endif

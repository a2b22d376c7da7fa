#include "tundish/house/verdict.h"

/* ORDER VERDICT */
static const char *const verdict_names[VERDICT_COUNT] = {"short", "undecided", "not_seen",
                                                         "unproven", "protected"};
static const char *const verdict_in_words[VERDICT_COUNT] = {"short", "undecided", "not seen",
                                                            "unproven", "protected"};

const char *verdict_name(enum verdict verdict)
{
	return verdict_names[verdict];
}

const char *verdict_words(enum verdict verdict)
{
	return verdict_in_words[verdict];
}

bool verdict_leaves_work(enum verdict verdict, enum urgency urgency)
{
	return verdict != VERDICT_PROTECTED || urgency >= URGENCY_NEXT_JOB;
}

bool because_why_not(const struct because *because)
{
	return because->row->fluid != ROW_NONE && because->row->category == CATEGORY_LEAST;
}

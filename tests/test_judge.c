/* The judge against the oracle: houses at random, every figure the same, no difference allowed. */
#include "tundish/house/verdict.h"

#include "judge_books.h"
#include "oracle.h"
#include "random_house.h"
#include "suite.h"

#include <check.h>

enum {
	ROUNDS = 900, /* houses, shared out among the kinds or the types of a book */
};

/* -- one comparison ---------------------------------------------------------------------------- */

/* What differs, in words; empty: nothing. */
struct difference {
	char words[400];
};

static void differ(struct difference *difference, const char *what, size_t which,
                   struct range judge, struct range oracle)
{
	if (!difference->words[0] && (judge.least != oracle.least || judge.most != oracle.most))
		snprintf(difference->words, sizeof difference->words,
		         "%s %zu: the judge has %d to %d, the oracle %d to %d", what, which,
		         judge.least, judge.most, oracle.least, oracle.most);
}

static void differ_in(struct difference *difference, const char *what, size_t judge, size_t oracle)
{
	if (!difference->words[0] && judge != oracle)
		snprintf(difference->words, sizeof difference->words,
		         "%s: the judge has %zu, the oracle %zu", what, judge, oracle);
}

/* A fluid that can't come back need not be named. */
static void compare_fluids(const struct assessment *judge, const struct oracle_verdict *oracle,
                           struct difference *difference)
{
	static const struct range nothing = {CATEGORY_LEAST, CATEGORY_LEAST};
	size_t named = 0;

	for (size_t f = 0; f < oracle->fluid_count; f++) {
		const struct oracle_fluid *own = &oracle->fluid[f];
		const struct fluid_verdict *found = NULL;

		for (size_t i = 0; i < judge->fluid_count; i++)
			if (judge->fluid[i].fluid == own->fluid)
				found = &judge->fluid[i];
		differ(difference, "fluid", own->fluid, found ? found->category : nothing,
		       own->category);
		if (!found)
			continue;
		named++;
		differ_in(difference, "mechanisms of a fluid", found->by, own->by);
		differ_in(difference, "inlets of a fluid", found->inlets, own->inlets);
	}
	differ_in(difference, "fluids named", judge->fluid_count, named);
}

static bool same_path(const struct path *a, const struct oracle_path *b)
{
	return a->fluid == b->fluid && a->inlet_index == b->inlet && a->mechanism == b->mechanism &&
	       a->to_part == b->to_part && strcmp(a->to, b->to) == 0;
}

static const struct item *inlet_there(const struct item *point, const char *id)
{
	for (size_t i = 0; i < point->child_count; i++)
		if (point->child[i]->scope == SCOPE_INLET && strcmp(point->child[i]->ref, id) == 0)
			return point->child[i];
	return NULL;
}

/* A path that never needs more than the worth of nothing need not be named. */
static void compare_paths(const struct kind *kind, const struct assessment *judge,
                          const struct oracle_verdict *oracle, struct difference *difference)
{
	size_t named = 0;

	for (size_t p = 0; p < oracle->path_count; p++) {
		const struct oracle_path *own = &oracle->path[p];
		const struct path *found = NULL;

		for (size_t i = 0; i < judge->path_count; i++)
			if (same_path(&judge->path[i], own))
				found = &judge->path[i];
		if (!found) {
			if (own->needs.most > CATEGORY_LEAST && !difference->words[0])
				snprintf(difference->words, sizeof difference->words,
				         "no path of fluid %u, inlet %u, %s, to %s", own->fluid,
				         own->inlet, mechanism_name(own->mechanism), own->to);
			continue;
		}
		named++;
		differ_in(difference, "inlet of a path", (size_t)(found->inlet != NULL),
		          (size_t)(inlet_there(judge->point, kind->inlet[own->inlet].id) != NULL));
		differ(difference, "needs of path", p, found->needs, own->needs);
		differ(difference, "good for on path", p, found->good_for, own->good_for);
		differ(difference, "accepted on path", p, found->accepted, own->accepted);
		differ(difference, "found on path", p, found->found, own->found);
		differ(difference, "on paper on path", p, found->on_paper, own->on_paper);
		differ(difference, "in fact on path", p, found->in_fact, own->in_fact);
	}
	differ_in(difference, "paths named that there are", judge->path_count, named);
}

/* An inlet that the survey does not have yet is one of the judge's own, with its point above it. */
static bool same_ask(const struct rulebook *book, const struct ask *a, const struct oracle_ask *b)
{
	const struct kind *kind = b->item->of < book->kind_count ? &book->kind[b->item->of] : NULL;

	if (a->question != b->question)
		return false;
	if (a->item->scope != SCOPE_INLET || b->item->scope == SCOPE_INLET)
		return a->item == b->item;
	return b->item->scope == SCOPE_POINT && a->item->parent == b->item && kind &&
	       b->inlet < kind->inlet_count && strcmp(a->item->ref, kind->inlet[b->inlet].id) == 0;
}

/* The same questions, each once; in which order is for the rulebook to say. */
static void compare_asks(const struct rulebook *book, const struct assessment *judge,
                         const struct oracle_verdict *oracle, struct difference *difference)
{
	size_t same = 0;

	for (size_t i = 0; i < judge->ask_count; i++)
		for (size_t j = 0; j < oracle->ask_count; j++)
			same += same_ask(book, &judge->ask[i], &oracle->ask[j]);
	differ_in(difference, "questions asked", judge->ask_count, same);
	differ_in(difference, "questions to ask", same, oracle->ask_count);
}

static void compare(const struct rulebook *book, const struct assessment *judge,
                    const struct oracle_verdict *oracle, struct difference *difference)
{
	difference->words[0] = '\0';
	differ(difference, "category", 0, judge->category, oracle->category);
	compare_fluids(judge, oracle, difference);
	compare_paths(&book->kind[judge->point->of], judge, oracle, difference);
	differ(difference, "on paper", 0, judge->on_paper, oracle->on_paper);
	differ(difference, "in fact", 0, judge->in_fact, oracle->in_fact);
	differ_in(difference, "verdict", judge->verdict, oracle->verdict);
	differ_in(difference, "urgency", judge->urgency, oracle->urgency);
	compare_asks(book, judge, oracle, difference);
}

static void print_range(const char *what, struct range range)
{
	fprintf(stderr, " %s %d..%d", what, range.least, range.most);
}

static void print_judge(const struct house *house, const struct assessment *judge)
{
	const struct kind *kind = &house->book->kind[house->point->of];

	for (size_t f = 0; f < judge->fluid_count; f++) {
		fprintf(stderr, "judge: fluid %u by %d inlets %d", judge->fluid[f].fluid,
		        judge->fluid[f].by, judge->fluid[f].inlets);
		print_range("category", judge->fluid[f].category);
		fprintf(stderr, "\n");
	}
	for (size_t p = 0; p < judge->path_count; p++) {
		const struct path *path = &judge->path[p];

		fprintf(stderr, "judge: fluid %u, %s, %s, to %s:", path->fluid,
		        kind->inlet[path->inlet_index].id, mechanism_name(path->mechanism),
		        path->to);
		print_range("needs", path->needs);
		print_range("good for", path->good_for);
		print_range("accepted", path->accepted);
		print_range("found", path->found);
		fprintf(stderr, "\n");
	}
	for (size_t i = 0; i < judge->ask_count; i++)
		fprintf(stderr, "judge: ask %s of %s\n",
		        judge->ask[i].question == QUESTION_NONE
		                ? "what is fitted"
		                : house->book->question[judge->ask[i].question].id,
		        judge->ask[i].item->ref);
	fprintf(stderr, "judge: %s %s\n", verdict_name(judge->verdict),
	        urgency_name(judge->urgency));
}

static void print_oracle(const struct house *house, const struct oracle_verdict *oracle)
{
	const struct kind *kind = &house->book->kind[house->point->of];

	for (size_t p = 0; p < oracle->path_count; p++) {
		const struct oracle_path *path = &oracle->path[p];

		if (path->needs.most == CATEGORY_LEAST)
			continue;
		fprintf(stderr, "oracle: fluid %u, %s, %s, to %s:", path->fluid,
		        kind->inlet[path->inlet].id, mechanism_name(path->mechanism), path->to);
		print_range("needs", path->needs);
		print_range("good for", path->good_for);
		print_range("accepted", path->accepted);
		print_range("found", path->found);
		fprintf(stderr, "\n");
	}
	for (size_t i = 0; i < oracle->ask_count; i++)
		fprintf(stderr, "oracle: ask %s of %s\n",
		        oracle->ask[i].question == QUESTION_NONE
		                ? "what is fitted"
		                : house->book->question[oracle->ask[i].question].id,
		        oracle->ask[i].item->ref);
	fprintf(stderr, "oracle: %s %s\n", verdict_name(oracle->verdict),
	        urgency_name(oracle->urgency));
}

/* -- many of them ---------------------------------------------------------------------------- */

struct tally {
	size_t compared, completions, skipped, verdict[VERDICT_COUNT], urgency[URGENCY_COUNT];
};

enum { COMPLETIONS_MOST = 3000 };

/* One house: judged, and where there is too much doubt for the oracle, answered more and judged
 * again. */
static void compare_house(struct judge *judge, struct house *house, const char *title,
                          struct tally *tally)
{
	static struct oracle_verdict oracle;
	struct assessment assessment;
	struct difference difference;
	struct err err = {0};

	for (int attempt = 0;; attempt++) {
		oracle_judge(&house->survey, house->point, COMPLETIONS_MOST, &oracle);
		if (!oracle.too_many)
			break;
		tally->skipped++;
		if (attempt == 5)
			return;
		house_say_more(house, house->survey.premises, 40);
	}
	ck_assert(judge_survey(judge, &house->survey, NULL));
	ck_assert_msg(judge_point(judge, house->point, &assessment, &err), "%s: %s", title,
	              err.message);
	tally->compared++;
	tally->completions += oracle.completions;
	tally->verdict[oracle.verdict]++;
	tally->urgency[oracle.urgency]++;
	compare(house->book, &assessment, &oracle, &difference);
	if (difference.words[0]) {
		house_print(house, house->survey.premises, 0);
		print_judge(house, &assessment);
		print_oracle(house, &oracle);
	}
	ck_assert_msg(!difference.words[0], "%s: %s", title, difference.words);
}

static void compare_houses(const struct rulebook *book, const struct kind *kind, uint16_t type,
                           size_t rounds, struct tally *tally)
{
	struct judge *judge = judge_create(book);

	ck_assert_ptr_nonnull(judge);
	for (size_t n = 0; n < rounds * scale(); n++) {
		uint64_t seed = n + 1000000 * (uint64_t)(kind - book->kind) +
		                1000000000 * (uint64_t)(type + 1u);
		struct chance chance = {seed};
		struct house house;
		char title[120];

		snprintf(title, sizeof title, "%s, seed %llu", kind->id, (unsigned long long)seed);
		house_make(&house, book, &chance, kind, type, 30 + 10 * (n % 8));
		compare_house(judge, &house, title, tally);
		house_end(&house);
	}
	judge_destroy(judge);
}

static void say(const char *title, const struct tally *tally)
{
	printf("%s: %zu points compared, %zu completions, %zu times too much doubt;", title,
	       tally->compared, tally->completions, tally->skipped);
	for (int v = 0; v < VERDICT_COUNT; v++)
		printf(" %s %zu", verdict_name((enum verdict)v), tally->verdict[v]);
	printf("\n");
	fflush(stdout);
}

START_TEST(every_kind_as_the_oracle_has_it)
{
	const struct rulebook *book = book_of(_i);
	struct tally tally = {0};

	for (size_t k = 0; k < book->kind_count; k++)
		compare_houses(book, &book->kind[k], INDEX_NONE, ROUNDS / book->kind_count + 1,
		               &tally);
	say(_i ? "kinds of the built-in book" : "kinds of the small book", &tally);
}
END_TEST

/* Each with kinds one after the other, so that every type meets several. */
START_TEST(every_type_as_the_oracle_has_it)
{
	const struct rulebook *book = book_of(_i);
	size_t rounds = ROUNDS / book->type_count + 1, kind = 0;
	struct tally tally = {0};

	for (uint16_t t = 0; t < book->type_count; t++)
		for (size_t n = 0; n < rounds; n += 4, kind++)
			compare_houses(book, &book->kind[kind % book->kind_count], t, 4, &tally);
	say(_i ? "types of the built-in book" : "types of the small book", &tally);
}
END_TEST

static Suite *suite(void)
{
	Suite *s = suite_create("judge");
	TCase *oracle = tcase_create("oracle");

	tcase_add_unchecked_fixture(oracle, read_books, finish_books);
	tcase_set_timeout(oracle, 120.0 * (double)scale());
	tcase_add_loop_test(oracle, every_kind_as_the_oracle_has_it, 0, 2);
	tcase_add_loop_test(oracle, every_type_as_the_oracle_has_it, 0, 2);
	suite_add_tcase(s, oracle);
	return s;
}

int main(void)
{
	return suite_run(suite());
}

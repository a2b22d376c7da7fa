/* The judge against the oracle: houses at random, every figure the same, no difference allowed. */
#include "tundish/house/verdict.h"
#include "tundish/store/rulebook_read.h"

#include "oracle_inside.h"
#include "random_house.h"

#include <check.h>

enum {
	ON = 20782, /* 2026-11-25 */
	TEXT_MOST = 1 << 17,
	TEXTS_MOST = 1000,
	ROUNDS = 900, /* houses, shared out among the kinds or the types of a book */
};

/* -- the two books --------------------------------------------------------------------------- */

static struct book {
	struct rulebook book;
	struct arena arena;
	struct faults faults;
} builtin, small;

/* The small book and what is laid over it. */
static char small_text[2][TEXT_MOST];
static struct source small_source[2] = {
        {"small.yaml", small_text[0], 0},
        {"odd.yaml",   small_text[1], 0}
};

static void read_book(struct book *book, const struct source *const *texts, size_t count)
{
	arena_init(&book->arena);
	faults_init(&book->faults, &book->arena);
	if (!rulebook_read(&book->book, texts, count, ON, &book->faults)) {
		for (size_t i = 0; i < book->faults.count; i++)
			fprintf(stderr, "%s", fault_text(&book->faults.item[i], &book->arena));
		abort();
	}
}

static void read_text(const char *path, struct source *source, char *text)
{
	FILE *file = fopen(path, "rb");

	if (!file)
		abort();
	source->length = fread(text, 1, TEXT_MOST - 1, file);
	fclose(file);
}

static void read_books(void)
{
	const struct source *texts[TEXTS_MOST], *two[] = {&small_source[0], &small_source[1]};
	size_t count;
	const struct source *all = rulebook_builtin(&count);

	if (count > TEXTS_MOST)
		abort();
	read_text(TUNDISH_TESTS "/rulebook/small.yaml", &small_source[0], small_text[0]);
	read_text(TUNDISH_TESTS "/rulebook/odd.yaml", &small_source[1], small_text[1]);
	read_book(&small, two, 2);
	for (size_t i = 0; i < count; i++)
		texts[i] = &all[i];
	read_book(&builtin, texts, count);
}

static void finish_books(void)
{
	rulebook_finish(&small.book);
	rulebook_finish(&builtin.book);
	arena_finish(&small.arena);
	arena_finish(&builtin.arena);
}

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

/* -- many of them
 * ---------------------------------------------------------------------------------- */

struct tally {
	size_t compared, completions, skipped, verdict[VERDICT_COUNT], urgency[URGENCY_COUNT];
};

static size_t scale(void)
{
	const char *text = getenv("TUNDISH_JUDGE_SCALE");
	int n = text ? atoi(text) : 1;

	return n > 0 ? (size_t)n : 1;
}

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
	ck_assert(judge_survey(judge, &house->survey));
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

static const struct rulebook *book_of(int index)
{
	return index ? &builtin.book : &small.book;
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

/* -- what must be so whatever the figures ------------------------------------------------------------- */

static bool inside(struct range range, struct range of)
{
	return range.least >= of.least && range.most <= of.most;
}

/* What is kept of a verdict: the judge's own arrays hold until its next one. */
struct kept {
	struct assessment assessment;
	struct path path[ORACLE_PATHS_MOST];
};

static void judge_now(struct judge *judge, const struct house *house, struct kept *out)
{
	struct err err = {0};

	ck_assert(judge_survey(judge, &house->survey));
	if (!judge_point(judge, house->point, &out->assessment, &err)) {
		/* more doubt than can be weighed: all is possible, and answering is the way out */
		ck_assert_msg(err.kind == ERR_TEXT, "%s", err.message);
		ck_assert_uint_eq(out->assessment.verdict, VERDICT_UNDECIDED);
		ck_assert(out->assessment.category.least == CATEGORY_LEAST &&
		          out->assessment.category.most == CATEGORY_MOST);
		ck_assert_uint_gt(out->assessment.ask_count, 0);
	}
	ck_assert_uint_le(out->assessment.path_count, ORACLE_PATHS_MOST);
	for (size_t i = 0; i < out->assessment.path_count; i++)
		out->path[i] = out->assessment.path[i];
}

static const struct path *path_like(const struct kept *kept, const struct path *path)
{
	for (size_t i = 0; i < kept->assessment.path_count; i++) {
		const struct path *other = &kept->path[i];

		if (other->fluid == path->fluid && other->inlet_index == path->inlet_index &&
		    other->mechanism == path->mechanism && strcmp(other->to, path->to) == 0)
			return other;
	}
	return NULL;
}

/* No outcome is new: the ranges lie within what they were. */
static void check_narrower(const struct kept *before, const struct kept *after, const char *title)
{
	const struct assessment *a = &after->assessment, *b = &before->assessment;

	ck_assert_msg(inside(a->category, b->category), "%s: category", title);
	ck_assert_msg(inside(a->on_paper, b->on_paper), "%s: on paper", title);
	ck_assert_msg(inside(a->in_fact, b->in_fact), "%s: in fact", title);
	for (size_t i = 0; i < a->path_count; i++) {
		const struct path *path = &after->path[i], *was = path_like(before, path);

		if (!was)
			continue; /* of another pipe, now that its feed was answered */
		ck_assert_msg(inside(path->needs, was->needs) &&
		                      inside(path->good_for, was->good_for) &&
		                      inside(path->accepted, was->accepted) &&
		                      inside(path->found, was->found) &&
		                      inside(path->on_paper, was->on_paper) &&
		                      inside(path->in_fact, was->in_fact),
		              "%s: path %zu to %s", title, i, path->to);
	}
}

static struct item *of_survey(struct house *house, const struct item *item)
{
	struct item *parent;

	if (item->scope == SCOPE_PREMISES)
		return house->survey.premises;
	if (item->scope != SCOPE_INLET)
		return survey_find(&house->survey, item->ref, strlen(item->ref));
	parent = survey_find(&house->survey, item->parent->ref, strlen(item->parent->ref));
	for (size_t i = 0; i < parent->child_count; i++)
		if (parent->child[i]->scope == SCOPE_INLET &&
		    strcmp(parent->child[i]->ref, item->ref) == 0)
			return parent->child[i];
	return house_add(house, parent, SCOPE_INLET, item->ref); /* it was not there yet */
}

/* What is fitted on an inlet. */
static void answer_fitted(struct house *house, struct item *inlet, size_t step)
{
	inlet->nothing_said = false;
	if (house_in(house, 1, 6))
		inlet->cannot_tell = true;
	else if (house_in(house, 5, 6))
		house_protections(house, inlet, arena_print(&house->arena, "n%zu", step), 2);
}

/* Answers one of the questions asked. @return false: it is one that changes who is who, not what is so. */
static bool answer_one(struct house *house, const struct ask *ask, size_t step)
{
	const struct known_questions *known = &house->book->known;
	struct item *item = of_survey(house, ask->item);
	const struct question *question;

	if (ask->question == QUESTION_NONE) {
		ck_assert_msg(item->nothing_said, "what is fitted is known");
		answer_fitted(house, item, step);
		return true;
	}
	ck_assert_msg(!item_answer(item, ask->question), "it was answered");
	question = &house->book->question[ask->question];
	if (question->scope == SCOPE_TEST && item->scope == SCOPE_PROTECTION) {
		item = house_add(house, item, SCOPE_TEST,
		                 arena_print(&house->arena, "%stn%zu", item->ref, step));
		house_put(house, item, ask->question, house_text(house, question));
	} else if (ask->question == known->inlet_fed_by) {
		house_put(house, item, ask->question, house_pipe(house, true, true));
	} else if (ask->question == known->protection_type) {
		house_put(house, item, ask->question,
		          house->book->type[chance_of(house->chance, house->book->type_count)].id);
	} else if (ask->question == known->room_part) {
		house_put(house, item, ask->question, "cannot_tell");
	} else {
		house_put(house, item, ask->question, house_text(house, question));
	}
	/* a date may make another test the latest */
	return ask->question != known->test_date;
}

/* Answer what is asked, one after the other, until nothing is. */
static size_t answer_all(struct judge *judge, struct house *house, const char *title)
{
	static struct kept before, after;
	size_t step = 0;

	judge_now(judge, house, &before);
	while (before.assessment.ask_count > 0) {
		const struct assessment *now = &before.assessment;
		const struct ask ask = now->ask[chance_of(house->chance, now->ask_count)];

		ck_assert_msg(step++ < 300, "%s: there is no end of asking", title);
		if (answer_one(house, &ask, step)) {
			judge_now(judge, house, &after);
			check_narrower(&before, &after, title);
		} else {
			judge_now(judge, house, &after);
		}
		before = after;
	}
	ck_assert_msg(before.assessment.verdict != VERDICT_UNDECIDED, "%s: undecided, and no ask",
	              title);
	return step;
}

START_TEST(answering_narrows_and_comes_to_an_end)
{
	const struct rulebook *book = book_of(_i);
	struct judge *judge = judge_create(book);
	size_t steps = 0, houses = 0;

	ck_assert_ptr_nonnull(judge);
	for (size_t n = 0; n < 300 * scale(); n++) {
		struct chance chance = {n + 77000000000};
		struct house house;
		char title[60];

		snprintf(title, sizeof title, "seed %zu", n);
		house_make(&house, book, &chance, &book->kind[n % book->kind_count], INDEX_NONE,
		           n % 2 ? 20 : 60);
		steps += answer_all(judge, &house, title);
		houses++;
		house_end(&house);
	}
	printf("answering all: %zu houses, %zu answers\n", houses, steps);
	judge_destroy(judge);
}
END_TEST

/* Which rows of a protection hold, all of its questions having one answer. */
static uint64_t rows_held(const struct house *house, const struct item *protection)
{
	const struct type *type = &house->book->type[protection->of];
	struct oracle *o = calloc(1, sizeof *o);
	uint64_t held = 0;

	ck_assert_ptr_nonnull(o);
	*o = (struct oracle){.survey = &house->survey, .book = house->book, .point = house->point};
	for (size_t r = 0; r < type->row_count; r++)
		oracle_add_answers(o, type->row[r].when, protection);
	oracle_start(o, NULL);
	for (size_t r = 0; r < type->row_count && r < 64; r++)
		if (oracle_holds(o, type->row[r].when, protection))
			held |= UINT64_C(1) << r;
	if (oracle_completions(o, NULL, 1) > 1)
		held = UINT64_MAX; /* not all are answered */
	free(o);
	return held;
}

static bool no_higher(struct range range, struct range was)
{
	return range.least <= was.least && range.most <= was.most;
}

static void check_no_higher(const struct kept *before, const struct kept *after, const char *title)
{
	for (size_t i = 0; i < after->assessment.path_count; i++) {
		const struct path *path = &after->path[i], *was = path_like(before, path);

		ck_assert_ptr_nonnull(was);
		ck_assert_msg(no_higher(path->good_for, was->good_for) &&
		                      no_higher(path->accepted, was->accepted) &&
		                      no_higher(path->found, was->found),
		              "%s: more rows hold, and a figure rose on the way to %s", title,
		              path->to);
	}
}

/* Give one question of a protection another answer. */
static void answer_otherwise(struct house *house, struct item *protection)
{
	const struct type *type = &house->book->type[protection->of];
	question_index q;

	if (type->question_count == 0)
		return;
	q = type->question[chance_of(house->chance, type->question_count)];
	if (house->book->question[q].scope == SCOPE_PROTECTION &&
	    house->book->question[q].form < FORM_TEXT)
		house_put(house, protection, q, house_text(house, &house->book->question[q]));
}

START_TEST(worse_state_is_never_worth_more)
{
	static struct kept before, after;
	const struct rulebook *book = book_of(_i);
	struct judge *judge = judge_create(book);
	size_t worse = 0;

	ck_assert_ptr_nonnull(judge);
	for (size_t n = 0; n < 1500 * scale(); n++) {
		struct chance chance = {n + 88000000000};
		struct house house;
		struct item *protection;
		uint64_t held, now;
		char title[60];

		snprintf(title, sizeof title, "seed %zu", n);
		house_make(&house, book, &chance, &book->kind[n % book->kind_count],
		           (uint16_t)(n % book->type_count), 100);
		protection = survey_find(&house.survey, "c0p0", 4);
		if (protection && protection->of != INDEX_NONE &&
		    (held = rows_held(&house, protection)) != UINT64_MAX) {
			judge_now(judge, &house, &before);
			answer_otherwise(&house, protection);
			now = rows_held(&house, protection);
			judge_now(judge, &house, &after);
			if (now != UINT64_MAX && now != held && (now & held) == held) {
				check_no_higher(&before, &after, title);
				worse++;
			} else if (now != UINT64_MAX && (now & held) == now) {
				check_no_higher(&after, &before, title);
			}
		}
		house_end(&house);
	}
	printf("worse states: %zu\n", worse);
	ck_assert_uint_gt(worse, 20);
	judge_destroy(judge);
}
END_TEST

/* An answer of a point, an inlet or a protection needs no new look at the tree of branches. */
START_TEST(answers_need_no_new_tree)
{
	static struct kept fresh;
	const struct rulebook *book = book_of(_i);
	struct judge *judge = judge_create(book);

	ck_assert_ptr_nonnull(judge);
	for (size_t n = 0; n < 200 * scale(); n++) {
		struct chance chance = {n + 99000000000};
		struct house house;
		struct assessment kept;
		struct err err = {0};

		house_make(&house, book, &chance, &book->kind[n % book->kind_count], INDEX_NONE,
		           50);
		ck_assert(judge_survey(judge, &house.survey));
		house_say(&house, house.point, 50);
		for (size_t i = 0; i < house.point->child_count; i++)
			for (size_t p = 0; p < house.point->child[i]->child_count; p++)
				house_say(&house, house.point->child[i]->child[p], 50);
		ck_assert(judge_point(judge, house.point, &kept, &err));
		ck_assert_int_eq(kept.point == house.point, 1);
		{
			struct assessment old = kept;

			judge_now(judge, &house, &fresh);
			ck_assert_uint_eq(old.verdict, fresh.assessment.verdict);
			ck_assert_uint_eq(old.urgency, fresh.assessment.urgency);
			ck_assert(memcmp(&old.on_paper, &fresh.assessment.on_paper,
			                 sizeof old.on_paper) == 0);
			ck_assert(memcmp(&old.in_fact, &fresh.assessment.in_fact,
			                 sizeof old.in_fact) == 0);
		}
		house_end(&house);
	}
	judge_destroy(judge);
}
END_TEST

static Suite *suite(void)
{
	Suite *s = suite_create("judge");
	TCase *oracle = tcase_create("oracle");
	TCase *always = tcase_create("always");

	tcase_add_unchecked_fixture(oracle, read_books, finish_books);
	tcase_set_timeout(oracle, 120.0 * (double)scale());
	tcase_add_loop_test(oracle, every_kind_as_the_oracle_has_it, 0, 2);
	tcase_add_loop_test(oracle, every_type_as_the_oracle_has_it, 0, 2);
	suite_add_tcase(s, oracle);
	tcase_add_unchecked_fixture(always, read_books, finish_books);
	tcase_set_timeout(always, 120.0 * (double)scale());
	tcase_add_loop_test(always, answering_narrows_and_comes_to_an_end, 0, 2);
	tcase_add_loop_test(always, worse_state_is_never_worth_more, 0, 2);
	tcase_add_loop_test(always, answers_need_no_new_tree, 0, 2);
	suite_add_tcase(s, always);
	return s;
}

int main(void)
{
	SRunner *runner = srunner_create(suite());
	int failed;

	srunner_run_all(runner, CK_ENV);
	failed = srunner_ntests_failed(runner);
	srunner_free(runner);
	return failed == 0 ? EXIT_SUCCESS : EXIT_FAILURE;
}

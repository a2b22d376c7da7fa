/* Tasks that are made by trying things on a copy: tried again here, on houses made anew, by the paths that a survey's changes take. */
#include "tundish/teach/quiz.h"

#include "judge_books.h"
#include "random_house.h"
#include "suite.h"

#include <check.h>

enum { ROUNDS = 250 }; /* houses a book */

static const struct item *point_of(const struct survey *survey, const char *ref)
{
	return survey_find(survey, ref, strlen(ref));
}

static void put_back_and_judge(struct judge *judge, const struct survey *survey, const char *ref,
                               struct assessment *of)
{
	struct err err = {0};

	ck_assert(judge_survey(judge, survey, &err));
	ck_assert_msg(judge_point(judge, point_of(survey, ref), of, &err), "%s", err.message);
}

static void change(struct survey *survey, const char *where, const char *after)
{
	struct change one = {.where = where, .after = after};
	struct err err = {0};

	ck_assert_msg(survey_apply(survey, &one, &err), "%s: %s", where, err.message);
}

/* -- which answer was written down wrongly -------------------------------------------------- */

static void range_line(char *out, size_t size, const char *where, struct range by)
{
	if (by.most == 0)
		snprintf(out, size, "%s: enough", where);
	else if (by.least == by.most)
		snprintf(out, size, "%s: short by %d", where, by.most);
	else if (by.least == 0)
		snprintf(out, size, "%s: enough, or short by up to %d", where, by.most);
	else
		snprintf(out, size, "%s: short by %d to %d", where, by.least, by.most);
}

static bool stands_as_shown(const struct assessment *of, const struct task *task)
{
	char line[4][80];

	ck_assert_uint_eq(task->shown_count, 4);
	snprintf(line[0], sizeof line[0], "Verdict: %s", verdict_words(of->verdict));
	range_line(line[1], sizeof line[1], "On paper", of->on_paper);
	range_line(line[2], sizeof line[2], "In fact", of->in_fact);
	snprintf(line[3], sizeof line[3], "How soon: %s", urgency_words(of->urgency));
	for (int i = 0; i < 4; i++)
		if (strcmp(line[i], task->shown[i]) != 0)
			return false;
	return true;
}

/* The answer that a path names: that of a protection or of the point. */
static const struct answer *answer_at(const struct survey *survey, const char *where,
                                      struct arena *arena)
{
	const struct item *item = survey_find(survey, where, strcspn(where, "/"));

	ck_assert_ptr_nonnull(item);
	for (size_t i = 0; i < item->answer_count; i++)
		if (strcmp(survey_where(survey, item, item->answer[i].question, arena), where) == 0)
			return &item->answer[i];
	ck_abort_msg("%s names no answer", where);
	return NULL;
}

/* Every other value that the rulebook can tell apart, as a text. */
static size_t other_values(const struct rulebook *book, const struct answer *answer,
                           const char **out, struct arena *arena)
{
	const struct question *question = &book->question[answer->question];
	size_t count = 0;

	if (question->form == FORM_CHOICE)
		for (size_t i = 0; i < question->option_count; i++)
			out[count++] = question->option[i].id;
	if (question->form == FORM_YES_NO) {
		out[count++] = "yes";
		out[count++] = "no";
	}
	for (size_t i = 0; question->cut_count > 0 && i <= question->cut_count; i++) {
		double value = i < question->cut_count ? question->cut[i] - 1
		                                       : question->cut[question->cut_count - 1];
		char date[11];

		if (question->form == FORM_NUMBER)
			out[count++] = arena_print(arena, "%.0f", value);
		if (question->form == FORM_DATE && value <= book->on) {
			date_format((day)value, date);
			out[count++] = arena_print(arena, "%s", date);
		}
	}
	return count;
}

static bool can_give_it(struct judge *judge, struct survey *survey, const struct task *task,
                        const char *where, struct arena *arena)
{
	const struct answer *answer = answer_at(survey, where, arena);
	const char *now = answer->text, *value[80];
	cells may = answer->may;
	question_index question = answer->question;
	size_t count = other_values(survey->book, answer, value, arena);
	bool found = false;

	ck_assert(count > 1 && count <= 80);
	for (size_t i = 0; i < count && !found; i++) {
		struct assessment of;
		const struct item *item = survey_find(survey, where, strcspn(where, "/"));

		change(survey, where, value[i]);
		put_back_and_judge(judge, survey, task->point->ref, &of);
		found = item_answer(item, question)->may != may && stands_as_shown(&of, task);
	}
	change(survey, where, now);
	return found;
}

static void check_spoiled(struct judge *judge, const struct task *task, struct survey *survey,
                          struct arena *arena)
{
	struct assessment of;

	ck_assert(task->choice_count >= 3 && task->choice_count <= 5);
	put_back_and_judge(judge, survey, task->point->ref, &of);
	ck_assert_msg(!stands_as_shown(&of, task), "%s: it stands so already", task->id);
	for (size_t c = 0; c < task->choice_count; c++) {
		bool can = can_give_it(judge, survey, task, task->choice[c].id, arena);

		ck_assert_msg(can == (task->choice[c].grade == GRADE_RIGHT), "%s: %s %s", task->id,
		              task->choice[c].id, can ? "can give it too" : "can't give it");
		ck_assert(can || task->choice[c].grade == GRADE_WRONG);
	}
}

/* -- which type would be enough -------------------------------------------------------------- */

static size_t tried;

/* What is fitted on an inlet goes, and one of a type that nothing else is said of comes. */
static void fit_instead(struct survey *survey, const char *ref, const char *inlet, const char *type,
                        struct arena *arena)
{
	const struct item *item = NULL, *one;
	const char *path = arena_print(arena, "%s/inlets/%s/protection/zz", ref, inlet);

	for (size_t i = 0; (one = item_child(point_of(survey, ref), SCOPE_INLET, i)); i++)
		if (strcmp(one->ref, inlet) == 0)
			item = one;
	ck_assert_ptr_nonnull(item);
	if (!survey_find(survey, "zz", 2)) {
		while ((one = item_child(item, SCOPE_PROTECTION, 0)))
			change(survey, survey_where(survey, one, QUESTION_NONE, arena), NULL);
		change(survey, path, "");
	}
	change(survey, "zz/type", type);
}

struct seen {
	bool known;                      /* nothing was too much in doubt to be judged */
	bool could_close, short_in_fact; /* the second: for certain */
};

static struct seen try_type(struct judge *judge, struct survey *survey, const struct task *task,
                            const char *type, struct arena *arena)
{
	const char *inlet = strrchr(task->id, '/') + 1;
	struct seen seen = {true, true, false};
	struct err err = {0};
	struct assessment of;

	fit_instead(survey, task->point->ref, inlet, type, arena);
	ck_assert(judge_survey(judge, survey, &err));
	seen.known = judge_point(judge, point_of(survey, task->point->ref), &of, &err);
	for (size_t i = 0; i < of.path_count; i++) {
		const struct path *path = &of.path[i];

		if (!path->inlet || strcmp(path->inlet->ref, inlet) != 0)
			continue;
		seen.could_close =
		        seen.could_close && path->on_paper.least == 0 && path->in_fact.least == 0;
		seen.short_in_fact = seen.short_in_fact || path->in_fact.least > 0;
	}
	return seen;
}

static void check_remedy(struct judge *judge, const struct task *task, struct survey *survey,
                         struct arena *arena)
{
	const struct task_choice *last = &task->choice[task->choice_count - 1];
	bool enough = last[-1].grade == GRADE_RIGHT;
	enum grade closing = enough ? GRADE_CAUTIOUS : GRADE_RIGHT;

	ck_assert_str_eq(last->id, "none_of_these");
	ck_assert(last->grade == GRADE_RIGHT || last->grade == GRADE_CAUTIOUS);
	ck_assert_str_eq(last[-1].id, "nothing_more");
	for (size_t c = 0; c + 2 < task->choice_count; c++) {
		const struct task_choice *choice = &task->choice[c];
		struct seen seen = try_type(judge, survey, task, choice->id, arena);

		/* the best state of this one is not the same in every house */
		if (!seen.known || strcmp(choice->id, "nosy") == 0)
			continue;
		tried++;
		ck_assert_msg(seen.could_close == (choice->grade == closing), "%s: %s is %s",
		              task->id, choice->id, grade_name(choice->grade));
		ck_assert_msg(!seen.short_in_fact || choice->grade == GRADE_DANGEROUS,
		              "%s: %s is %s", task->id, choice->id, grade_name(choice->grade));
		ck_assert(seen.could_close || choice->grade == GRADE_DANGEROUS ||
		          choice->grade == GRADE_WRONG);
	}
}

/* -- houses ------------------------------------------------------------------------------------ */

static size_t spoiled, remedies, none_right;

static void make(struct house *house, const struct rulebook *book, struct chance *chance, size_t n)
{
	chance->state = n + 4711;
	house_make(house, book, chance, &book->kind[n % book->kind_count],
	           (uint16_t)(n % book->type_count), 60 + 10 * (n % 5));
}

/* Each on a house of its own. */
static void check_task(struct judge *judge, const struct task *task, const struct rulebook *book,
                       size_t n)
{
	struct arena arena = {0};
	struct chance chance;
	struct house again;

	make(&again, book, &chance, n);
	if (task->family == FAMILY_SPOILED) {
		spoiled++;
		check_spoiled(judge, task, &again.survey, &arena);
	} else {
		remedies++;
		none_right += strcmp(task_right(task)->id, "none_of_these") == 0;
		check_remedy(judge, task, &again.survey, &arena);
	}
	house_end(&again);
	arena_finish(&arena);
}

START_TEST(what_was_tried_holds_when_it_is_tried_again)
{
	const struct rulebook *book = book_of(_i);
	struct judge *judge = judge_create(book);

	spoiled = remedies = none_right = tried = 0;
	for (size_t n = 0; n < ROUNDS * scale(); n++) {
		struct quiz_plan plan = {.seed = n,
		                         .families = (1 << FAMILY_SPOILED) | (1 << FAMILY_REMEDY)};
		struct chance chance;
		struct house house;
		struct arena arena = {0};
		struct quiz quiz;
		struct err err = {0};

		make(&house, book, &chance, n);
		if (quiz_make(&house.survey, &plan, &arena, &quiz, &err))
			for (size_t i = 0; i < quiz.task_count; i++)
				check_task(judge, &quiz.task[i], book, n);
		arena_finish(&arena);
		house_end(&house);
	}
	judge_destroy(judge);
	printf("%s book: %zu spoiled answers and %zu remedies tried again, these with %zu types "
	       "(%zu times none is right)\n",
	       _i ? "built-in" : "small", spoiled, remedies, tried, none_right);
	ck_assert(spoiled > 100 && remedies > 50 && none_right > 5 && none_right < remedies &&
	          tried > remedies * 2);
}
END_TEST

static Suite *suite(void)
{
	Suite *s = suite_create("teach_trials");
	TCase *trials = tcase_create("trials");

	tcase_add_unchecked_fixture(trials, read_books, finish_books);
	tcase_set_timeout(trials, 120.0 * (double)scale());
	tcase_add_loop_test(trials, what_was_tried_holds_when_it_is_tried_again, 0, 2);
	suite_add_tcase(s, trials);
	return s;
}

int main(void)
{
	return suite_run(suite());
}

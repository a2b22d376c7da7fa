#include "paper_ink.h"

#include "tundish/base/number.h"
#include "tundish/print/assessed.h"
#include "tundish/print/progress.h"

static char letter_of(const struct task *task, const struct task_choice *choice)
{
	return (char)('A' + (choice - task->choice) % 26);
}

/* -- the head of both sheets ------------------------------------------------------------------- */

static void about(struct page *page, const struct paper_ink *ink, const struct paper *paper)
{
	const struct rulebook *book = paper->quiz->survey->book;
	size_t tasks = paper->quiz->task_count;
	char on[11];

	date_format(book->on, on);
	ink->says(page,
	          arena_print(
	                  page->scratch,
	                  "%zu tasks, drawn by the seed %llu, judged for %s by the rulebook %.8s.",
	                  tasks, (unsigned long long)paper->seed, on, book->digest));
	if (paper->pass_percent)
		ink->says(page,
		          arena_print(page->scratch,
		                      "The mark to pass is %u%%: %g points of %zu. What errs "
		                      "on the safe side counts half a point.",
		                      paper->pass_percent,
		                      (double)mark_halves(tasks, paper->pass_percent) / 2, tasks));
	if (paper->minutes)
		ink->says(page, arena_print(page->scratch, "Time: %u minutes.", paper->minutes));
}

/* -- the tasks --------------------------------------------------------------------------------- */

static void put_task(struct page *page, const struct paper_ink *ink, const struct task *task,
                     size_t number)
{
	ink->task(page, number, task->asks);
	for (size_t i = 0; i < task->shown_count; i++)
		ink->shown(page, task->shown[i]);
	for (size_t i = 0; i < task->choice_count; i++)
		ink->choice(page, letter_of(task, &task->choice[i]), task->choice[i].text);
	if (task->choice_count == 0)
		ink->number(page, unit_words(task->unit));
	ink->task_end(page);
}

static void tasks_sheet(struct page *page, const struct paper_ink *ink, const struct paper *paper)
{
	const struct quiz *quiz = paper->quiz;
	const struct item *point = NULL;
	bool house = false;

	ink->fill(page, "Name");
	ink->fill(page, "Date");
	about(page, ink, paper);
	for (size_t i = 0; i < quiz->task_count; i++)
		house |= quiz->task[i].point != NULL;
	if (house)
		paper_house(page, ink, quiz->survey);
	ink->head(page, 2, "The tasks");
	for (size_t i = 0; i < quiz->task_count; i++) {
		const struct task *task = &quiz->task[i];

		if (task->point && task->point != point)
			paper_point(page, ink, quiz->survey, task->point);
		else if (!task->point && point)
			ink->head(page, 3, "Without the house");
		point = task->point;
		put_task(page, ink, task, i + 1);
		arena_reset(page->scratch);
	}
}

/* -- the answers ------------------------------------------------------------------------------- */

static const char *right_words(struct page *page, const struct task *task)
{
	const struct task_choice *right = task_right(task);
	char value[32];

	if (right)
		return arena_print(page->scratch, "%c  %s", letter_of(task, right), right->text);
	number_format(task->right, value);
	return arena_print(page->scratch, "%s %s", value, unit_words(task->unit));
}

/* `Dangerous: A, C.`; NULL where there is none. */
static const char *letters_of(struct page *page, const struct task *task, enum grade grade,
                              const char *word)
{
	const char *letters = NULL;

	for (size_t i = 0; i < task->choice_count; i++) {
		if (task->choice[i].grade != grade)
			continue;
		letters = arena_print(page->scratch, "%s%s%c", letters ? letters : word,
		                      letters ? ", " : ": ", letter_of(task, &task->choice[i]));
		if (!letters)
			return NULL;
	}
	return letters;
}

static void put_reason(struct page *page, const struct paper_ink *ink, const struct reason *reason)
{
	const char *source = reason->source ? reason->source : "no source";

	ink->shown(page, arena_print(page->scratch, "%s (%s; %s)", reason->says, source,
	                             standing_words(reason->standing)));
}

static void put_answer(struct page *page, const struct paper_ink *ink, const struct task *task,
                       size_t number)
{
	const char *dangerous = letters_of(page, task, GRADE_DANGEROUS, "Dangerous");
	const char *cautious = letters_of(page, task, GRADE_CAUTIOUS, "Half a point");

	ink->task(page, number, right_words(page, task));
	if (task->choice_count == 0) {
		dangerous = "Dangerous: less.";
		cautious = "Half a point: more.";
	}
	if (dangerous)
		ink->shown(page, dangerous);
	if (cautious)
		ink->shown(page, cautious);
	for (size_t i = 0; i < task->reason_count; i++)
		put_reason(page, ink, &task->reason[i]);
	ink->task_end(page);
}

static void answers_sheet(struct page *page, const struct paper_ink *ink, const struct paper *paper)
{
	const struct quiz *quiz = paper->quiz;
	const struct item *point = NULL;

	about(page, ink, paper);
	ink->says(page, arena_print(page->scratch, "The same again: %s", paper->again));
	ink->head(page, 2, "The answers");
	for (size_t i = 0; i < quiz->task_count; i++) {
		const struct task *task = &quiz->task[i];

		if (task->point && task->point != point)
			ink->head(page, 3, paper_point_title(page, quiz->survey, task->point));
		else if (!task->point && point)
			ink->head(page, 3, "Without the house");
		point = task->point;
		put_answer(page, ink, task, i + 1);
		arena_reset(page->scratch);
	}
}

void paper_print(struct page *page, const struct paper *paper, enum paper_form form,
                 enum paper_sheet sheet)
{
	const struct paper_ink *ink = form == PAPER_HTML ? &paper_html_ink : &paper_text_ink;

	if (sheet == PAPER_TASKS) {
		ink->begin(page, paper->title);
		tasks_sheet(page, ink, paper);
	} else {
		ink->begin(page, arena_print(page->scratch, "%s: the answers", paper->title));
		answers_sheet(page, ink, paper);
	}
	ink->says(page, safety_caution);
	ink->end(page);
	arena_reset(page->scratch);
}

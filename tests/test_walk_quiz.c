/*
 * A quiz in the walk: no verdict is told before it may be, nothing can be changed, answers are taken and their worth is told, and
 * the host hears of each.
 */
#include "chance.h"
#include "quiz_drive.h"

#include "tundish/house/verdict.h"
#include "tundish/walk/quiz.h"
#include "tundish/walk/tell.h"

#include "suite.h"

/* -- what is told ---------------------------------------------------------------------------- */

/* All that can be read in a walk: what is drawn at each step, and what is told to who reads it line by line. */
struct all {
	char *text;
	size_t length, room;
};

static void add(struct all *all, const char *text)
{
	size_t bytes = text == NULL ? 0 : strlen(text);

	if (all->length + bytes + 2 > all->room) {
		all->room = (all->room + bytes + 2) * 2;
		all->text = realloc(all->text, all->room);
		ck_assert_ptr_nonnull(all->text);
	}
	if (text != NULL)
		memcpy(all->text + all->length, text, bytes);
	all->length += bytes;
	all->text[all->length++] = '\n';
	all->text[all->length] = '\0';
}

static void add_texts(struct all *all, struct told_texts texts)
{
	for (size_t i = 0; i < texts.count; i++)
		add(all, texts.item[i].text);
}

static void add_lines(struct all *all, struct drive *d, struct arena *arena)
{
	struct told_line line;
	struct told_task task;
	bool trouble;

	for (size_t i = 1; walk_line(d->walk, i, arena, &line); i++) {
		add(all, line.head);
		add(all, line.label);
		add(all, line.value);
		add(all, line.asked ? "<asked>" : "");
	}
	add(all, walk_title(d->walk, arena));
	add(all, walk_message(d->walk, &trouble));
	add(all, walk_verdict(d->walk, arena));
	add_texts(all, walk_whole_verdict(d->walk, arena));
	add_texts(all, walk_why(d->walk, arena));
	if (!walk_task(d->walk, arena, &task))
		return;
	add_texts(all, task.says);
	add_texts(all, task.after);
}

static void see(struct all *all, struct drive *d, const char *keys)
{
	struct arena arena = {0};
	char *text;

	drive(d, keys);
	text = drive_text(d);
	add(all, text);
	add_lines(all, d, &arena);
	free(text);
	arena_finish(&arena);
}

/* Each line of each form, with its help and the verdict that is asked for; each task; each list; what is found. */
static void see_all(struct all *all, struct drive *d)
{
	size_t rows, lines;

	see(all, d, "Space");
	see(all, d, "?");
	see(all, d, "PgDn PgDn PgDn");
	see(all, d, "Esc t");
	see(all, d, "Esc :");
	see(all, d, "PgDn");
	see(all, d, "Esc v");
	see(all, d, "r");
	for (int i = 0; i < QUIZ_TASKS; i++)
		see(all, d, "]");
	see(all, d, "Esc");
	while (walk_context(d->walk) != IN_LOOK_HOUSE)
		see(all, d, "Esc");
	see(all, d, "Home");
	rows = walk_lines(d->walk, NULL);
	for (size_t row = 0; row < rows; row++) {
		see(all, d, "v");
		if (walk_context(d->walk) == IN_TASK)
			see(all, d, "Esc");
		see(all, d, "! l o p w z d a u Enter");
		lines = walk_lines(d->walk, NULL);
		for (size_t line = 0; line < lines; line++) {
			see(all, d, "?");
			see(all, d, "Esc 1 y n 0 t");
			see(all, d, "Esc x s r c m < > g");
			see(all, d, "Down");
		}
		see(all, d, "v");
		if (walk_context(d->walk) == IN_TASK)
			see(all, d, "Esc");
		see(all, d, "Esc");
		see(all, d, "Down");
	}
	see(all, d, "/ \"e\" Enter");
	for (int i = 0; i < 30; i++)
		see(all, d, "n");
	see(all, d, "Enter q");
	see(all, d, "n Ctrl-C");
	see(all, d, "n Space");
}

/* -- two books that say different things of the same house ----------------------------------- */

static struct rulebook other_book;

/* Other figures at the same places: what is asked and what it is called stays. */
static void change(char *text, const char *from, const char *to)
{
	size_t length = strlen(from);
	char *at = text;

	ck_assert_uint_eq(length, strlen(to));
	ck_assert_msg(strstr(text, from) != NULL, "`%s` is not in the small rulebook", from);
	while ((at = strstr(at, from)) != NULL) {
		memcpy(at, to, length);
		at += length;
	}
}

static void load_both(void)
{
	static char text[1 << 18];
	struct source small = {0};
	const struct source *sources[] = {&small, &drive_overlay};
	struct arena arena = {0};
	struct faults faults;

	quiz_load();
	memcpy(text, small_book()->text, small_book()->length);
	change(text, "good_for: { back_pressure: 2, back_siphonage: 2 }",
	       "good_for: { back_pressure: 4, back_siphonage: 4 }");
	change(text, "good_for: { back_pressure: 3, back_siphonage: 3 }",
	       "good_for: { back_pressure: 2, back_siphonage: 2 }");
	change(text, "category: 5", "category: 4");
	change(text, "watering }\n            category: 3", "watering }\n            category: 4");
	small = (struct source){"other.yaml", text, small_book()->length};
	faults_init(&faults, &arena);
	ck_assert_msg(rulebook_read(&other_book, sources, 2, date_day(2026, 11, 25), &faults),
	              "the other book has a fault: %s",
	              faults.count > 0 ? faults.item[0].message : "?");
	arena_finish(&arena);
}

static void unload_both(void)
{
	rulebook_finish(&other_book);
	drive_unload();
}

static const char *const points[] = {"K1", "K2", "G1", "G2", "G3", "G4"};
enum { POINTS = sizeof(points) / sizeof(points[0]) };

/* Verdicts and figures, as text. */
static void judge_all(const struct rulebook *book, char out[POINTS][64])
{
	struct judge *judge = judge_create(book);
	struct survey survey = {0};

	quiz_survey(&survey, book);
	ck_assert(judge != NULL && judge_survey(judge, &survey, &(struct err){0}));
	for (size_t i = 0; i < POINTS; i++) {
		struct assessment found;
		struct err err = {0};

		ck_assert_msg(judge_point(judge, survey_find(&survey, points[i], 2), &found, &err),
		              "%s", err.message);
		snprintf(out[i], 64, "%s %d %d-%d %d-%d %d-%d", verdict_name(found.verdict),
		         (int)found.urgency, found.category.least, found.category.most,
		         found.on_paper.least, found.on_paper.most, found.in_fact.least,
		         found.in_fact.most);
	}
	judge_destroy(judge);
	survey_finish(&survey);
}

START_TEST(the_house_has_every_verdict_and_the_other_book_says_others)
{
	static const char *const verdicts[POINTS] = {"short",    "short",    "protected",
	                                             "unproven", "not_seen", "undecided"};
	char first[POINTS][64], second[POINTS][64];

	judge_all(&drive_book, first);
	judge_all(&other_book, second);
	for (size_t i = 0; i < POINTS; i++) {
		ck_assert_msg(strncmp(first[i], verdicts[i], strlen(verdicts[i])) == 0, "%s is %s",
		              points[i], first[i]);
		ck_assert_msg(strcmp(first[i], second[i]) != 0, "%s is %s by both", points[i],
		              first[i]);
	}
}
END_TEST

static const struct size {
	int rows, cols;
	bool exam;
} sizes[] = {
        {24, 80,  false},
        {30, 100, false},
        {50, 160, false},
        {10, 40,  false},
        {24, 80,  true },
        {30, 100, true },
        {50, 160, true },
        {10, 40,  true },
};
enum { SIZES = sizeof(sizes) / sizeof(sizes[0]) };

static void see_quiz(struct all *all, const struct rulebook *book, const struct size *size,
                     const char *keys, bool over)
{
	struct quizzed q;

	quiz_begin_on(&q, book, size->rows, size->cols, size->exam, true);
	drive(&q.drive, keys);
	if (over)
		drive(&q.drive, "f y");
	see_all(all, &q.drive);
	quiz_end_drive(&q);
}

/* Where they part, with what is around it. */
static void same(const struct all *a, const struct all *b, const char *title)
{
	size_t at = 0;

	while (a->text[at] == b->text[at] && a->text[at] != '\0')
		at++;
	ck_assert_msg(a->text[at] == b->text[at],
	              "%s: it tells on the verdict at\n%.400s\nwhich is by the other\n%.400s",
	              title, a->text + (at < 200 ? 0 : at - 200),
	              b->text + (at < 200 ? 0 : at - 200));
}

/* Whatever the verdicts are, all that can be seen and read is the same. */
START_TEST(nothing_hangs_on_a_verdict_that_is_hidden)
{
	const struct size *size = &sizes[_i];
	const char *keys = size->exam ? "3 1 3 4 1 \"30\" Enter 1" : "3 Space 1 Space";
	struct all first = {0}, second = {0};

	see_quiz(&first, &drive_book, size, keys, false);
	see_quiz(&second, &other_book, size, keys, false);
	same(&first, &second, "a quiz");
	free(first.text);
	free(second.text);
}
END_TEST

/* And when it is over it isn't, else there would have been nothing to find. */
START_TEST(verdicts_are_told_when_it_is_over)
{
	struct all first = {0}, second = {0};

	see_quiz(&first, &drive_book, &sizes[_i], "1", true);
	see_quiz(&second, &other_book, &sizes[_i], "1", true);
	ck_assert(strcmp(first.text, second.text) != 0);
	free(first.text);
	free(second.text);
}
END_TEST

/* What a verdict is told in, anywhere in a walk; none of it is a word of the forms. */
static const char *const words[] = {"short by",         "could be short", "undecided",  "unproven",
                                    "protected",        "How soon",       ", now",      ", days",
                                    ", next job",       ", watch",        "not seen, ", "<asked>",
                                    "somebody was told"};
enum { WORDS = sizeof(words) / sizeof(words[0]) };

static bool holds(const struct all *all, const char *word)
{
	/* the keys and how to read the screen name things too */
	for (const char *at = all->text; (at = strstr(at, word)) != NULL; at++) {
		const char *line = at;

		while (line > all->text && line[-1] != '\n')
			line--;
		if (strstr(line, "p                  ") != line + 2 &&
		    strstr(line, "unproven: go to") == NULL)
			return true;
	}
	return false;
}

START_TEST(no_word_of_a_verdict_is_said_before)
{
	struct all hidden = {0}, told = {0};

	see_quiz(&hidden, &drive_book, &sizes[_i], "", false);
	see_quiz(&told, &drive_book, &sizes[_i], "", true);
	for (size_t i = 0; i < WORDS; i++) {
		ck_assert_msg(!holds(&hidden, words[i]), "`%s` is told", words[i]);
		if (strcmp(words[i], "could be short") != 0)
			ck_assert_msg(holds(&told, words[i]),
			              "`%s` is not even told when it is over", words[i]);
	}
	/* nor anything that would have to be known of it */
	ck_assert(!holds(&hidden, "move this verdict"));
	free(hidden.text);
	free(told.text);
}
END_TEST

/* In practice that of a point is the lesson, once all that is asked about it was answered; of others nothing is told. */
START_TEST(practice_tells_the_verdict_of_what_was_answered)
{
	struct quizzed q;

	quiz_begin_drive(&q, 30, 100, false);
	drive(&q.drive, "3 Space 1 v");
	drive_expect(&q.drive, "Hidden until all about K1 is answered.",
	             "one task about it is left");
	drive(&q.drive, "Space 3 v");
	drive_expect(&q.drive, "How soon: now", "all were answered");
	drive(&q.drive, "Esc Esc Esc");
	drive_expect(&q.drive, "short by 4, now", "in the house too");
	ck_assert(!drive_shows(&q.drive, "protected"));
	ck_assert(!drive_shows(&q.drive, "short by 1"));
	drive(&q.drive, "Down v");
	drive_expect(&q.drive, "Hidden until the quiz", "nothing is asked about this one");
	quiz_end_drive(&q);
}
END_TEST

/* -- answers --------------------------------------------------------------------------------- */

/* clang-format off */
static const struct sitting {
	const char *title;
	bool exam;
	const char *keys;
	const char *heard; /* by the host */
	const char *shows; /* NULL: never mind */
	const char *not_shown;
} sittings[] = {
	{"the first task is shown", false, "", "shown 1\n", "Task 1 of 7", NULL},
	{"by number", false, "1", "shown 1\nanswered 1 dangerous\n", "Dangerous", NULL},
	{"by mark", false, "Down Down Down Enter",
	 "shown 1\nanswered 1 right\n", "Right answer", NULL},
	{"Enter alone answers nothing", false, "Enter Enter", "shown 1\n", "Press its number", NULL},
	{"a mark stays within", false, "Up Up End Down Down Enter",
	 "shown 1\nanswered 1 right\n", NULL, NULL},
	{"there is no such number", false, "7", "shown 1\n", "There is no number 7", NULL},
	{"in practice the first answer stands", false, "1 3",
	 "shown 1\nanswered 1 dangerous\n", "It was answered", NULL},
	{"the reason with its source and standing", false, "1",
	 NULL, "(Table of the test book line 1;", NULL},
	{"a trainer's own reason", false, "] ] ] ] ] ] 1", NULL, "(the trainer's own)", NULL},
	{"it waits for a key", false, "1", NULL, "Right answer", "Task 2"},
	{"Enter goes on", false, "1 Enter",
	 "shown 1\nanswered 1 dangerous\nshown 2\n", "Task 2 of 7", NULL},
	{"the next without an answer", false, "] 1 [ 1 Space",
	 "shown 1\nshown 2\nanswered 2 right\nshown 1\nanswered 1 dangerous\nshown 3\n", "Task 3 of 7", NULL},
	{"round the end", false, "] ] ] ] ] ] Space", NULL, "Task 1 of 7", NULL},
	{"no task before the first", false, "[", "shown 1\n", "This is the first task", NULL},
	{"no task behind the last", false, "] ] ] ] ] ] ]", NULL, "This is the last task", NULL},
	{"looking keeps the task", false, "Esc Esc Down Space 1",
	 "shown 1\nanswered 1 dangerous\n", "Dangerous", NULL},
	{"a number where one only looks answers nothing", false, "Esc 1",
	 "shown 1\n", "Only to look", NULL},
	{"a number is typed", false, "] ] ] ] ] \"30\" Enter", NULL, "Right.", NULL},
	{"Enter opens the field too", false, "] ] ] ] ] Enter \"40\" Enter",
	 NULL, "Your answer: 40 mm", NULL},
	{"below is dangerous", false, "] ] ] ] ] \"29.9\" Enter", NULL, "Dangerous", NULL},
	{"another unit is understood", false, "] ] ] ] ] \"3 cm\" Enter", NULL, "Right.", NULL},
	{"what is no number is not taken", false, "] ] ] ] ] Enter \"high\" Enter",
	 NULL, "! This takes a number in mm", "Right answer"},
	{"nor in an exam", true, "] ] ] ] ] Enter \"high\" Enter",
	 "shown 1\nshown 2\nshown 3\nshown 4\nshown 5\nshown 6\n", "! This takes a number in mm", NULL},
	{"it can be typed again", false, "] ] ] ] ] Enter \"high\" Enter Ctrl-U \"30\" Enter",
	 NULL, "Right.", NULL},
	{"nothing typed is nothing answered", false, "] ] ] ] ] Enter Enter",
	 NULL, "Enter types it", NULL},
	{"Esc leaves the field", false, "] ] ] ] ] \"30\" Esc", NULL, "Enter types it", "Right"},
	{"the last answer of a practice: its reason first, then the result", false, "3 Space 1 Space 3 Space 3 Space 1 Space \"30\" Enter Space 1",
	 NULL, "Right answer", "Result"},
	{"then the result", false, "3 Space 1 Space 3 Space 3 Space 1 Space \"30\" Enter Space 1 Space",
	 NULL, "Result: 7 of 7 (100%)", NULL},
	{"half the credit", false, "3 Space 3 Space 3 Space 3 Space 1 Space \"31\" Enter Space 1 Space",
	 NULL, "Result: 6 of 7 (85%)", NULL},
	{"handing in early asks", false, "1 f",
	 "shown 1\nanswered 1 dangerous\n", "6 of 7 not answered. Hand in?", NULL},
	{"and can be thought better of", false, "1 f n",
	 "shown 1\nanswered 1 dangerous\n", "Stayed", NULL},
	{"handed in", false, "1 f y",
	 "shown 1\nanswered 1 dangerous\nhanded in 1\n", "Pass mark 70%: not reached", NULL},
	{"after that nothing is answered", false, "f y ] 1",
	 "shown 1\nhanded in 1\nshown 1\n", "It was answered", NULL},
	{"Enter reads them in their order", false, "f y Enter Enter", NULL, "Task 2 of 7", NULL},
	{"behind the last the result again", false, "f y [ Enter", NULL, "Result", NULL},
	{"leaving asks", false, "q", "shown 1\n", "7 of 7 not answered. Leave?", NULL},
	{"an interrupt asks", false, "Ctrl-C", "shown 1\n", "7 of 7 not answered. Leave?", NULL},

	{"an exam tells nothing", true, "1",
	 "shown 1\nanswered 1 dangerous\nshown 2\n", "Task 2 of 7", "Dangerous"},
	{"nor when one goes back", true, "1 [", NULL, "[x]", "Right answer"},
	{"an answer can be changed", true, "1 [ 3",
	 "shown 1\nanswered 1 dangerous\nshown 2\nshown 1\nanswered 1 right\nshown 2\n", "Kept.", NULL},
	{"the list says how each stands before what it is", false, "1 t", NULL, "dangerous, K1: fluid and category (Kitchen mixer)", NULL},
	{"and is narrowed by the name too", false, "t \"outside\" Enter", NULL, "Task 4 of 7", NULL},
	{"the list tells nothing", true, "1 3 t", NULL, "answered", "dangerous"},
	{"no verdict in an exam", true, "v", NULL, "Verdicts are hidden until you hand in", NULL},
	{"no result before", true, "r", NULL, "No result before", NULL},
	{"all answered is not handed in", true, "3 1 3 3 1 \"30\" Enter 1",
	 NULL, "All are answered", "Result"},
	{"nor by going on", true, "3 1 3 3 1 \"30\" Enter 1 Space Space",
	 NULL, "All are answered", "Result"},
	{"it asks all the same", true, "3 1 3 3 1 \"30\" Enter 1 f", NULL, "Hand in?", "Result"},
	{"and is passed", true, "3 1 3 3 1 \"30\" Enter 1 f y",
	 NULL, "Pass mark 70%: reached", "Wrong"},
	{"dangerous ones apart from cautious ones", true, "1 3 3 4 1 \"31\" Enter 1 f y",
	 NULL, "Dangerous: taken for safe", NULL},
	{"and each can be read", true, "1 3 f y ]",
	 NULL, "Your answer: It comes back, and is of", NULL},
	{"what was not answered too", true, "1 3 f y ] ] ]", NULL, "Not answered.", NULL},
	{"leaving an exam", true, "1 q", NULL, "Not handed in. Leave?", NULL},
	{"an answer that is a sentence has one stop", true, "] ] ] ] ] ] 2 ] ] ] ] ] ]", NULL,
	 "Your answer: Shut it. It can be", NULL},
	{"and one that is none gets it", true, "] ] ] ] ] ] 1 ] ] ] ] ] ]", NULL,
	 "Your answer: Tell everybody on it. It", NULL},
	{"nothing can be saved, and no key is said to", false, "? PgDn", NULL,
	 "How to read the screen", "save the survey"},
	{"nor what would tell of a verdict", false, "? PgDn", NULL, NULL, "move the verdict"},
	{"nor in the list of all", false, ": \"save\"", NULL, NULL, "save the survey"},
};
/* clang-format on */

START_TEST(sitting_goes)
{
	const struct sitting *row = &sittings[_i];
	struct quizzed q;

	quiz_begin_drive(&q, 30, 100, row->exam);
	q.drive.host = &q.host;
	drive_effects(&q.drive);
	drive(&q.drive, row->keys);
	if (row->heard != NULL)
		ck_assert_msg(strcmp(q.heard, row->heard) == 0, "%s: the host heard\n%s",
		              row->title, q.heard);
	if (row->shows != NULL)
		drive_expect(&q.drive, row->shows, row->title);
	if (row->not_shown != NULL)
		ck_assert_msg(!drive_shows(&q.drive, row->not_shown), "%s: `%s` is shown",
		              row->title, row->not_shown);
	quiz_end_drive(&q);
}
END_TEST

START_TEST(left_when_it_was_said_so)
{
	struct quizzed q;

	quiz_begin_drive(&q, 24, 80, true);
	drive(&q.drive, "1 q n");
	ck_assert_uint_eq(q.drive.leaves, 0);
	drive(&q.drive, "q y");
	ck_assert_uint_eq(q.drive.leaves, 1);
	ck_assert_int_eq(q.drive.leaving, WALK_LEAVING_SAVED);
	ck_assert(!q.attempt.over);
	quiz_end_drive(&q);
	quiz_begin_drive(&q, 24, 80, false);
	drive(&q.drive, "f y q");
	ck_assert_uint_eq(q.drive.leaves, 1);
	quiz_end_drive(&q);
}
END_TEST

/* Where nothing is left to answer nothing is asked; an exam is worth nothing before it is handed in. */
START_TEST(leaving_after_the_last_answer)
{
	static const char all[] = "3 Space 1 Space 3 Space 3 Space 1 Space \"30\" Enter Space 1 q";
	struct quizzed q;

	quiz_begin_drive(&q, 24, 80, false);
	drive(&q.drive, all);
	ck_assert_uint_eq(q.drive.leaves, 1);
	quiz_end_drive(&q);
	quiz_begin_drive(&q, 24, 80, true);
	drive(&q.drive, "3 1 3 3 1 \"30\" Enter 1 q");
	ck_assert_uint_eq(q.drive.leaves, 0);
	drive_expect(&q.drive, "Not handed in. Leave?", "an exam");
	quiz_end_drive(&q);
}
END_TEST

/* Marked ones scroll into sight, and what an answer was worth is seen at once, in the least room too. */
START_TEST(what_matters_is_in_sight)
{
	struct quizzed q;

	quiz_begin_drive(&q, 10, 40, false);
	drive(&q.drive, "1");
	drive_expect(&q.drive, "Right answer: It comes back", "below what was asked");
	drive(&q.drive, "] ] ] ] End");
	drive_expect(&q.drive, "> 4 None of these", "the last answer");
	drive(&q.drive, "Enter");
	drive_expect(&q.drive, "Wrong.", "what it was worth");
	drive_expect(&q.drive, "Right answer: AUK3", "and what is right");
	quiz_end_drive(&q);
}
END_TEST

START_TEST(an_attempt_that_was_begun_goes_on)
{
	struct survey survey = {0};
	struct quizzed q;
	struct walk *walk;

	quiz_begin_drive(&q, 24, 80, true);
	drive(&q.drive, "3 1 ] 3");
	walk_destroy(q.drive.walk);
	survey = q.drive.survey;
	walk = walk_create(&survey, &(struct walk_options){.name = "again", .attempt = &q.attempt});
	q.drive.walk = walk;
	walk_draw(walk, &q.drive.screen);
	drive_expect(&q.drive, "Task 3 of 7", "the first without an answer");
	drive_expect(&q.drive, "3 of 7 answered", "and what was answered counts");
	drive(&q.drive, "f y");
	walk_destroy(walk);
	q.drive.walk = walk_create(&survey,
	                           &(struct walk_options){.name = "again", .attempt = &q.attempt});
	walk_draw(q.drive.walk, &q.drive.screen);
	drive_expect(&q.drive, "Result: 3 of 7", "one that is over shows its result");
	quiz_end_drive(&q);
}
END_TEST

/* Tasks made of the house by the assessment, answered right by their keys, in the least room. */
START_TEST(tasks_of_a_house_can_be_answered)
{
	struct quizzed q;
	struct quiz_plan plan = {.seed = 7, .families = FAMILIES_ALL};
	struct quiz quiz;
	struct err err = {0};

	quiz_begin_drive(&q, 10, 40, _i == 1);
	ck_assert_msg(quiz_make(&q.drive.survey, &plan, &q.arena, &quiz, &err), "%s", err.message);
	walk_destroy(q.drive.walk);
	q.quiz = quiz;
	q.attempt.given = NULL;
	ck_assert(attempt_begin(&q.attempt, &q.quiz, &q.arena));
	q.attempt.exam = _i == 1;
	q.drive.walk = walk_create(&q.drive.survey,
	                           &(struct walk_options){.name = "made", .attempt = &q.attempt});
	for (size_t i = 0; i < quiz.task_count; i++) {
		const struct task *task = &quiz.task[i];
		char number[32];

		for (size_t c = 0; c < task->choice_count; c++) {
			if (task->choice[c].grade != GRADE_RIGHT)
				continue;
			drive(&q.drive, "Home");
			for (size_t down = 0; down < c; down++)
				drive(&q.drive, "Down");
		}
		drive(&q.drive, "Enter");
		if (task->choice_count == 0) {
			snprintf(number, sizeof(number), "\"%g\" Enter", task->right);
			drive(&q.drive, number);
		}
		if (!q.attempt.exam)
			drive(&q.drive, "Enter");
	}
	drive(&q.drive, q.attempt.exam ? "f y" : "");
	ck_assert_uint_gt(quiz.task_count, 20);
	ck_assert_uint_eq(attempt_score(&q.attempt).grade[GRADE_RIGHT], quiz.task_count);
	drive_expect(&q.drive, "(100%)", "all right");
	quiz_end_drive(&q);
}
END_TEST

/* -- time ------------------------------------------------------------------------------------ */

START_TEST(time_is_told_and_ends_it)
{
	struct quizzed q;

	quiz_begin_drive(&q, 24, 80, true);
	q.drive.host = &q.host;
	drive(&q.drive, "");
	ck_assert_msg(!drive_shows(&q.drive, "min"), "nobody asked for a limit");
	walk_quiz_time(q.drive.walk, 20);
	drive(&q.drive, "1");
	drive_expect(&q.drive, "20 min left", "on the title line");
	walk_quiz_time(q.drive.walk, 6);
	drive(&q.drive, "");
	ck_assert(!drive_shows(&q.drive, "minutes left."));
	walk_quiz_time(q.drive.walk, 5);
	drive(&q.drive, "");
	drive_expect(&q.drive, "5 minutes left.", "said at five");
	drive(&q.drive, "Down");
	walk_quiz_time(q.drive.walk, 5);
	drive(&q.drive, "");
	ck_assert_msg(!drive_shows(&q.drive, "5 minutes left."), "said once");
	walk_quiz_time(q.drive.walk, 1);
	drive(&q.drive, "");
	drive_expect(&q.drive, "1 minute left.", "said at one");
	drive(&q.drive, "] ] ] ] ] \"30\"");
	walk_quiz_time(q.drive.walk, 0);
	drive_effects(&q.drive);
	drive(&q.drive, "");
	drive_expect(&q.drive, "Time is up: handed in as it stands.", "the end");
	drive_expect(&q.drive, "Result: 0 of 7", "as it stands: what was half typed is no answer");
	ck_assert(q.attempt.over);
	ck_assert_ptr_nonnull(strstr(q.heard, "handed in"));
	walk_quiz_time(q.drive.walk, 0);
	drive_effects(&q.drive);
	ck_assert_ptr_null(strstr(strstr(q.heard, "handed in") + 1, "handed in"));
	quiz_end_drive(&q);
}
END_TEST

/* -- any keys -------------------------------------------------------------------------------- */

static const char *const any_words[] = {
        "Up",     "Down",   "Enter",   "Enter", "Tab",   "Shift-Tab", "Left",      "Right",
        "PgUp",   "PgDn",   "Home",    "End",   "Esc",   "Esc",       "Space",     "Space",
        "1",      "2",      "3",       "4",     "0",     "a",         "d",         "e",
        "u",      "x",      "t",       "v",     "f",     "r",         "n",         "y",
        "q",      "/",      ":",       "?",     "]",     "[",         "l",         "s",
        "w",      "m",      "c",       "!",     "o",     "p",         "<",         ">",
        "z",      "Ctrl-R", "Ctrl-S",  "\"3\"", "\"e\"", "Ctrl-G",    "Backspace", "Delete",
        "Ctrl-U", "+",      "\"fin\"", "n",
};

/* Nothing is changed, nothing saved, no answer of a practice taken twice, none after the end. */
START_TEST(any_keys_change_nothing)
{
	struct chance chance = {(uint64_t)_i + 1};
	struct quizzed q;
	char *before, *after, *end;
	size_t answered = 0;

	quiz_begin_drive(&q, 24, 80, _i % 2 == 0);
	q.drive.host = &q.host;
	before = drive_says(&q.drive.survey);
	for (int i = 0; i < 600 && q.drive.leaves == 0 && strlen(q.heard) < HEARD_MOST - 200; i++) {
		drive(&q.drive,
		      any_words[chance_of(&chance, sizeof(any_words) / sizeof(any_words[0]))]);
		if (chance_of(&chance, 20) == 0)
			ck_assert(screen_resize(&q.drive.screen, (int)chance_of(&chance, 40),
			                        (int)chance_of(&chance, 170)));
		ck_assert_msg(q.drive.screen.rows == 0 ||
		                      (q.drive.screen.cursor_row >= 0 &&
		                       q.drive.screen.cursor_row < q.drive.screen.rows &&
		                       q.drive.screen.cursor_col >= 0 &&
		                       q.drive.screen.cursor_col < q.drive.screen.cols),
		              "the cursor is off the screen");
	}
	after = drive_says(&q.drive.survey);
	ck_assert_str_eq(before, after);
	ck_assert_uint_eq(q.drive.saves + q.drive.committed, 0);
	for (const char *at = q.heard; (at = strstr(at, "answered")) != NULL; at++)
		answered++;
	if (!q.attempt.exam)
		ck_assert_uint_eq(answered, attempt_score(&q.attempt).answered);
	end = strstr(q.heard, "handed in");
	ck_assert_int_eq(q.attempt.over, end != NULL);
	ck_assert(end == NULL || strstr(end, "answered") == NULL);
	free(before);
	free(after);
	quiz_end_drive(&q);
}
END_TEST

int main(void)
{
	Suite *suite = suite_create("walk: quiz");
	TCase *hidden = tcase_create("hidden"), *answers = tcase_create("answers"),
	      *any = tcase_create("any keys");
	TCase *cases[] = {hidden, answers, any};

	for (size_t i = 0; i < 3; i++) {
		tcase_add_unchecked_fixture(cases[i], load_both, unload_both);
		tcase_set_timeout(cases[i], 60);
		suite_add_tcase(suite, cases[i]);
	}
	tcase_add_test(hidden, the_house_has_every_verdict_and_the_other_book_says_others);
	tcase_add_loop_test(hidden, nothing_hangs_on_a_verdict_that_is_hidden, 0, SIZES);
	tcase_add_loop_test(hidden, verdicts_are_told_when_it_is_over, 0, SIZES);
	tcase_add_loop_test(hidden, no_word_of_a_verdict_is_said_before, 0, SIZES);
	tcase_add_test(hidden, practice_tells_the_verdict_of_what_was_answered);
	tcase_add_loop_test(answers, sitting_goes, 0, sizeof(sittings) / sizeof(sittings[0]));
	tcase_add_test(answers, left_when_it_was_said_so);
	tcase_add_test(answers, leaving_after_the_last_answer);
	tcase_add_test(answers, what_matters_is_in_sight);
	tcase_add_test(answers, an_attempt_that_was_begun_goes_on);
	tcase_add_loop_test(answers, tasks_of_a_house_can_be_answered, 0, 2);
	tcase_add_test(answers, time_is_told_and_ends_it);
	tcase_add_loop_test(any, any_keys_change_nothing, 0, 40);
	return suite_run(suite);
}

/*
 * The walk on a real pseudo-terminal: a child walks, the test types and reads what comes out. What
 * is asked for is said in the survey that the child reports when it ends.
 */
#include "walk_drive.h"

#include "tundish/screen/run.h"

#include "suite.h"

#include <fcntl.h>
#include <locale.h>
#include <poll.h>
#include <signal.h>
#include <sys/ioctl.h>
#include <sys/wait.h>
#include <termios.h>
#include <unistd.h>

enum { WAIT_MS = 15000, OUTPUT_MOST = 1 << 20, REPORT_MOST = 1 << 14 };

struct stage {
	int master, slave, report;
	pid_t child;
	struct termios before;
	char *output;
	size_t length;
	char said[REPORT_MOST]; /* by the child, at its end */
	int status;
};

/* -- the child ------------------------------------------------------------------------------ */

struct acting {
	int on_commit; /* signal that the child sends itself when something was committed; 0: none
	                */
	bool save_ok;
	int ticks; /* how many times it is told that time passes before it says so; 0: it is not told */
};

static void on_committed(void *context, struct walk *walk, const struct changes *changes)
{
	const struct acting *acting = context;

	(void)walk;
	(void)changes;
	if (acting->on_commit != 0)
		raise(acting->on_commit);
}

static void on_save(void *context, struct walk *walk)
{
	const struct acting *acting = context;

	walk_saved(walk, acting->save_ok, NULL);
}

static void on_tick(void *context, struct walk *walk)
{
	struct acting *acting = context;

	if (acting->ticks > 0 && --acting->ticks == 0)
		walk_say(walk, false, "Time has passed.");
}

static void act(struct stage *stage, int report, struct acting acting, const char *term, bool color)
{
	struct walk_host host = {.context = &acting, .committed = on_committed, .save = on_save};
	struct screen_options options = {fdopen(stage->slave, "r"),
	                                 fdopen(dup(stage->slave), "w"),
	                                 term,
	                                 color,
	                                 THEME_ANY,
	                                 false};
	struct walk_end result;
	struct err err = {0};
	struct drive d;
	char *says;

	if (acting.ticks > 0) {
		host.tick = on_tick;
		host.tick_ms = 10;
	}
	setlocale(LC_CTYPE, "C.UTF-8");
	/* a terminal of its own, so that its signals come here; no size but the terminal's */
	setsid();
	ioctl(stage->slave, TIOCSCTTY, 0);
	unsetenv("LINES");
	unsetenv("COLUMNS");
	drive_begin(&d, 24, 80, true);
	result = screen_run(d.walk, &host, &options, &err);
	says = drive_says(&d.survey);
	dprintf(report, "end=%d leaving=%d signal=%d err=%s\n%s", (int)result.form,
	        (int)result.leaving, result.signal, err.message, says);
	free(says);
	drive_end(&d);
	fclose(options.in);
	fclose(options.out);
	exit(0);
}

/* -- the stage ------------------------------------------------------------------------------ */

static void set_size(struct stage *stage, unsigned short rows, unsigned short cols)
{
	struct winsize size = {.ws_row = rows, .ws_col = cols};

	ck_assert_int_eq(ioctl(stage->master, TIOCSWINSZ, &size), 0);
}

static void begin(struct stage *stage, struct acting acting, const char *term, bool color)
{
	int report[2];

	memset(stage, 0, sizeof(*stage));
	stage->output = malloc(OUTPUT_MOST);
	stage->master = posix_openpt(O_RDWR | O_NOCTTY);
	ck_assert(stage->output != NULL && stage->master >= 0);
	ck_assert(grantpt(stage->master) == 0 && unlockpt(stage->master) == 0);
	stage->slave = open(ptsname(stage->master), O_RDWR | O_NOCTTY);
	ck_assert(stage->slave >= 0 && pipe(report) == 0);
	set_size(stage, 24, 80);
	ck_assert_int_eq(tcgetattr(stage->slave, &stage->before), 0);
	stage->child = fork();
	ck_assert_int_ge(stage->child, 0);
	if (stage->child == 0) {
		close(stage->master);
		close(report[0]);
		act(stage, report[1], acting, term, color);
	}
	close(report[1]);
	stage->report = report[0];
}

/* Reads on for at most @p ms. @return whether anything came. */
static bool take_output(struct stage *stage, int ms)
{
	struct pollfd fd = {stage->master, POLLIN, 0};
	ssize_t got;

	if (poll(&fd, 1, ms) <= 0)
		return false;
	got = read(stage->master, stage->output + stage->length, OUTPUT_MOST - stage->length - 1);
	if (got <= 0)
		return false;
	stage->length += (size_t)got;
	return true;
}

static bool has_output(const struct stage *stage, const char *words)
{
	stage->output[stage->length] = '\0';
	return strstr(stage->output, words) != NULL;
}

static void expect(struct stage *stage, const char *words)
{
	for (int waited = 0; waited < WAIT_MS && !has_output(stage, words);)
		if (!take_output(stage, 100))
			waited += 100;
	ck_assert_msg(has_output(stage, words), "`%s` never came", words);
	stage->length = 0;
}

static void type(struct stage *stage, const char *bytes)
{
	ck_assert_int_eq(write(stage->master, bytes, strlen(bytes)), (ssize_t)strlen(bytes));
}

static void quiet(struct stage *stage)
{
	while (take_output(stage, 300))
		;
}

static void finish(struct stage *stage)
{
	size_t length = 0;
	ssize_t got;
	struct pollfd fds[2] = {
	        {stage->report, POLLIN, 0},
                {stage->master, POLLIN, 0}
        };

	/* both at once: the child may wait until its output is read */
	while (poll(fds, 2, WAIT_MS) > 0) {
		if (fds[1].revents & POLLIN)
			take_output(stage, 0);
		if ((fds[0].revents & (POLLIN | POLLHUP)) == 0)
			continue;
		got = read(stage->report, stage->said + length, REPORT_MOST - 1 - length);
		if (got <= 0)
			break;
		length += (size_t)got;
	}
	ck_assert_int_eq(waitpid(stage->child, &stage->status, 0), stage->child);
	while (take_output(stage, 50))
		;
	stage->output[stage->length] = '\0';
}

static bool modes_as_before(const struct stage *stage)
{
	struct termios now;

	return tcgetattr(stage->slave, &now) == 0 && now.c_lflag == stage->before.c_lflag &&
	       now.c_iflag == stage->before.c_iflag && now.c_oflag == stage->before.c_oflag;
}

static void end(struct stage *stage)
{
	close(stage->master);
	close(stage->slave);
	close(stage->report);
	free(stage->output);
}

static const char first_screen[] = "Begin here", rmcup[] = "\033[?1049l",
                  paste_off[] = "\033[?2004l";

/* -- keys ----------------------------------------------------------------------------------- */

struct typed {
	const char *title, *bytes;
	const char *says; /* all that the survey says when the walk was left */
};

#define LEAVE   "qd"
#define FIELD   "\r"
#define NAME(x) "premises/name=" x "\n"

static const struct typed typings[] = {
        {"arrows as the terminal is told to send them",  "\033OB2" LEAVE,                              "premises/nation=wales\n"   },
        {"arrows as others send them",                   "\033[B2" LEAVE,                              "premises/nation=wales\n"   },
        {"a letter of two bytes is no key code",         FIELD "\xc3\xa9\r" LEAVE,                     NAME("\xc3\xa9")            },
        {"a letter of four bytes",                       FIELD "\xf0\x9f\x94\xa7\r" LEAVE,             NAME("\xf0\x9f\x94\xa7")    },
        {"both backspaces",                              FIELD "abc\x7f\x08\r" LEAVE,                  NAME("a")                   },
        {"Ctrl-A, Ctrl-E, Ctrl-K",                       FIELD "bc\001a\005d\001\006\006\013\r" LEAVE, NAME("ab")                  },
        {"Ctrl-Left is let go, not its letters typed",   FIELD "ab\033[1;5Dc\r" LEAVE,                 NULL                        },
        {"an unknown sequence means nothing",            FIELD "ab\033[99;7Xc\r" LEAVE,                NAME("abc")                 },
        {"what is pasted is text, and no field is left", FIELD "\033[200~a\r\nq\033[201~\r" LEAVE,
         NAME("a q")                                                                                                               },
        {"what is pasted outside a field is no command", "\033[200~qd\033[201~\033OB1" LEAVE,
         "premises/nation=england\n"                                                                                               },
        {"Ctrl-S saves and does not freeze",             "\033OB1\023q",                               "premises/nation=england\n" },
        {"Shift-Tab",                                    "\t\t\033[Z3" LEAVE,                          "premises/nation=scotland\n"},
        {"F1 shows help as Ctrl-G does",                 "\033OP\033OQ\033OB\r\033OB2" LEAVE,          NULL                        },
};

START_TEST(bytes_become_keys)
{
	const struct typed *row = &typings[_i];
	struct stage stage;
	const char *says;

	begin(&stage, (struct acting){.save_ok = true}, "xterm", false);
	expect(&stage, first_screen);
	type(&stage, row->bytes);
	finish(&stage);
	ck_assert_msg(strncmp(stage.said, "end=0 ", 6) == 0, "%s: %s", row->title, stage.said);
	says = strchr(stage.said, '\n') + 1;
	if (row->says != NULL)
		ck_assert_msg(strcmp(says, row->says) == 0, "%s: says %s", row->title, says);
	ck_assert_msg(modes_as_before(&stage), "%s: the terminal is not as it was", row->title);
	ck_assert_msg(has_output(&stage, rmcup) && has_output(&stage, paste_off),
	              "%s: the screen of before did not come back", row->title);
	end(&stage);
}
END_TEST

START_TEST(esc_alone_leaves_the_field)
{
	struct stage stage;

	begin(&stage, (struct acting){0}, "xterm", false);
	expect(&stage, first_screen);
	type(&stage, "\rabc\033");
	quiet(&stage);
	type(&stage, "q");
	finish(&stage);
	ck_assert_str_eq(stage.said, "end=0 leaving=0 signal=0 err=\n");
	end(&stage);
}
END_TEST

START_TEST(nothing_is_written_while_nothing_happens)
{
	struct stage stage;

	begin(&stage, (struct acting){0}, "xterm-256color", true);
	expect(&stage, first_screen);
	quiet(&stage);
	stage.length = 0;
	ck_assert_msg(!take_output(&stage, 2500), "%zu bytes came by themselves", stage.length);
	type(&stage, "q");
	finish(&stage);
	end(&stage);
}
END_TEST

/* The host hears of it, says something, and the walk goes on; nothing else is written. */
START_TEST(time_passes_while_no_key_comes)
{
	struct stage stage;

	begin(&stage, (struct acting){.ticks = 100}, "xterm", false);
	expect(&stage, first_screen);
	expect(&stage, "Time has passed.");
	quiet(&stage);
	stage.length = 0;
	ck_assert_msg(!take_output(&stage, 500), "%zu bytes came by themselves", stage.length);
	type(&stage, "q");
	finish(&stage);
	ck_assert_str_eq(stage.said, "end=0 leaving=0 signal=0 err=\n");
	end(&stage);
}
END_TEST

START_TEST(resizing_loses_no_key)
{
	static const unsigned short sizes[][2] = {
	        {10, 40 },
                {1,  1  },
                {2,  5  },
                {50, 200},
                {24, 80 }
        };
	struct stage stage;

	begin(&stage, (struct acting){0}, "xterm", false);
	expect(&stage, first_screen);
	type(&stage, "\ra");
	for (int round = 0; round < 10; round++) {
		for (size_t i = 0; i < 5; i++) {
			set_size(&stage, sizes[i][0], sizes[i][1]);
			type(&stage, "b");
			take_output(&stage, 20);
		}
	}
	quiet(&stage);
	type(&stage, "\rqd");
	finish(&stage);
	ck_assert_msg(strstr(stage.said, "premises/name=abbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbb"
	                                 "bbbbbbbb\n") != NULL,
	              "%s", stage.said);
	end(&stage);
}
END_TEST

/* -- ends ----------------------------------------------------------------------------------- */

START_TEST(hang_up_and_terminate_are_told_and_nothing_is_lost)
{
	static const int signals[] = {SIGHUP, SIGTERM};
	struct stage stage;
	char expected[200];

	begin(&stage, (struct acting){.on_commit = signals[_i]}, "xterm", false);
	expect(&stage, first_screen);
	type(&stage, "\033OB2");
	finish(&stage);
	snprintf(expected, sizeof(expected),
	         "end=1 leaving=0 signal=%d err=\npremises/nation=wales\n", signals[_i]);
	ck_assert_str_eq(stage.said, expected);
	ck_assert(modes_as_before(&stage));
	end(&stage);
}
END_TEST

/* Half a word is kept where it is a value; else it was nothing yet. */
START_TEST(what_is_typed_outlives_the_terminal)
{
	static const struct {
		const char *keys, *echo, *says;
		int signal;
	} rows[] = {
	        {"\rElm R",         "Elm R", "premises/name=Elm R\n", SIGHUP },
	        {"\rElm R",         "Elm R", "premises/name=Elm R\n", SIGTERM},
	        {"/stan\r\r\r30 f", "30 f",  "",                      SIGTERM},
	};
	struct stage stage;
	char expected[200];

	begin(&stage, (struct acting){0}, "xterm", false);
	expect(&stage, first_screen);
	type(&stage, rows[_i].keys);
	expect(&stage, rows[_i].echo);
	quiet(&stage);
	kill(stage.child, rows[_i].signal);
	finish(&stage);
	snprintf(expected, sizeof(expected), "end=1 leaving=0 signal=%d err=\n%s", rows[_i].signal,
	         rows[_i].says);
	ck_assert_str_eq(stage.said, expected);
	end(&stage);
}
END_TEST

START_TEST(interrupt_asks_and_twice_leaves)
{
	struct stage stage;

	begin(&stage, (struct acting){0}, "xterm", false);
	expect(&stage, first_screen);
	type(&stage, "\033OB2");
	expect(&stage, "Wales");
	type(&stage, "\003");
	expect(&stage, "Not saved yet");
	type(&stage, "\003");
	finish(&stage);
	ck_assert_str_eq(stage.said, "end=0 leaving=2 signal=0 err=\npremises/nation=wales\n");
	ck_assert(modes_as_before(&stage));
	end(&stage);
}
END_TEST

START_TEST(terminal_is_put_back_after_a_crash)
{
	static const int signals[] = {SIGSEGV, SIGABRT, SIGBUS, SIGFPE};
	struct stage stage;

	begin(&stage, (struct acting){.on_commit = signals[_i]}, "xterm", false);
	expect(&stage, first_screen);
	type(&stage, "\033OB2");
	finish(&stage);
	ck_assert_msg(WIFSIGNALED(stage.status) && WTERMSIG(stage.status) == signals[_i],
	              "ended with status %x", (unsigned)stage.status);
	ck_assert_msg(modes_as_before(&stage), "the modes are not as they were");
	ck_assert_msg(has_output(&stage, rmcup) && has_output(&stage, paste_off),
	              "the screen of before did not come back");
	end(&stage);
}
END_TEST

START_TEST(lost_terminal_ends_the_walk)
{
	struct stage stage;

	begin(&stage, (struct acting){0}, "xterm", false);
	expect(&stage, first_screen);
	close(stage.slave);
	close(stage.master);
	stage.slave = stage.master = open("/dev/null", O_RDWR);
	finish(&stage);
	/* by the hang-up or by the end of input, whichever is heard first */
	ck_assert_msg(strncmp(stage.said, "end=1 leaving=0 signal=1 ", 25) == 0 ||
	                      strncmp(stage.said, "end=2 ", 6) == 0,
	              "%s", stage.said);
	close(stage.master);
	close(stage.report);
	free(stage.output);
}
END_TEST

/* -- looks ---------------------------------------------------------------------------------- */

/* Only these may be sent to set a look: reset, bold, underline, reverse, red, green, cyan, own
 * foreground and background. */
static bool is_look_allowed(int number)
{
	static const int allowed[] = {0, 1, 4, 7, 22, 24, 27, 31, 32, 36, 39, 49};

	for (size_t i = 0; i < sizeof(allowed) / sizeof(allowed[0]); i++)
		if (allowed[i] == number)
			return true;
	return false;
}

static size_t check_looks(const char *output)
{
	size_t colors = 0;

	for (const char *at = output; (at = strstr(at, "\033[")) != NULL;) {
		const char *end = at + 2 + strspn(at + 2, "0123456789;");

		at += 2;
		while (*end == 'm' && at <= end) {
			int number = (int)strtol(at, NULL, 10);

			ck_assert_msg(is_look_allowed(number), "look %d was sent", number);
			colors += number == 31 || number == 32 || number == 36;
			at += strcspn(at, ";m") + 1;
		}
	}
	return colors;
}

START_TEST(looks_are_few_and_color_only_when_asked)
{
	bool color = _i == 1;
	struct stage stage;
	size_t colors;

	begin(&stage, (struct acting){0}, "xterm-256color", color);
	quiet(&stage);
	type(&stage, "\033OF\r\033OF\rRoom\ra\rkit\r10");
	quiet(&stage);
	type(&stage, "qd");
	finish(&stage);
	/* a verdict was on the screen */
	ck_assert_msg(strstr(stage.said, "R1/kind=kitchen_mixer") != NULL, "%s", stage.said);
	colors = check_looks(stage.output);
	ck_assert_msg(color ? colors > 0 : colors == 0, "%zu colours", colors);
	end(&stage);
}
END_TEST

START_TEST(unusable_terminals_are_refused_in_words)
{
	struct err err = {0};

	ck_assert(screen_usable("xterm", &err));
	ck_assert(!screen_usable("dumb", &err));
	ck_assert_msg(strstr(err.message, "move its cursor") != NULL, "%s", err.message);
	err = (struct err){0};
	ck_assert(!screen_usable("no-such-terminal", &err));
	ck_assert_msg(strstr(err.message, "not known") != NULL, "%s", err.message);
}
END_TEST

static Suite *screen_suite(void)
{
	Suite *suite = suite_create("screen");
	TCase *keys = tcase_create("keys"), *ends = tcase_create("ends"),
	      *looks = tcase_create("looks");
	TCase *all[] = {keys, ends, looks};

	for (size_t i = 0; i < 3; i++) {
		tcase_add_unchecked_fixture(all[i], drive_load, drive_unload);
		tcase_set_timeout(all[i], 60);
		suite_add_tcase(suite, all[i]);
	}
	tcase_add_loop_test(keys, bytes_become_keys, 0, sizeof(typings) / sizeof(typings[0]));
	tcase_add_test(keys, esc_alone_leaves_the_field);
	tcase_add_test(keys, nothing_is_written_while_nothing_happens);
	tcase_add_test(keys, time_passes_while_no_key_comes);
	tcase_add_test(keys, resizing_loses_no_key);
	tcase_add_loop_test(ends, hang_up_and_terminate_are_told_and_nothing_is_lost, 0, 2);
	tcase_add_loop_test(ends, what_is_typed_outlives_the_terminal, 0, 3);
	tcase_add_test(ends, interrupt_asks_and_twice_leaves);
	tcase_add_loop_test(ends, terminal_is_put_back_after_a_crash, 0, 4);
	tcase_add_test(ends, lost_terminal_ends_the_walk);
	tcase_add_loop_test(looks, looks_are_few_and_color_only_when_asked, 0, 2);
	tcase_add_test(looks, unusable_terminals_are_refused_in_words);
	return suite;
}

int main(void)
{
	return suite_run(screen_suite());
}

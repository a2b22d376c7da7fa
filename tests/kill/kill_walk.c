/*
 * Kills a walk, over and over, and looks whether anything is lost but what was being typed.
 *
 *     kill_walk TUNDISH FAIL.so COUNT [SEED]     at random moments
 *     kill_walk TUNDISH FAIL.so calls            at every call that touches a file, from the first answer to the last save;
 *                                                then each of these calls fails instead
 *     kill_walk TUNDISH FAIL.so broken           the same kills of a save that is not safe, which has to be found out
 *
 * An answer is one that was given when the next question had been asked. What is found afterwards, in the file that the
 * next walk recovers and saves, must be the last answer given to each question, or the one that was on its way.
 */
#include <errno.h>
#include <fcntl.h>
#include <poll.h>
#include <signal.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <termios.h>
#include <time.h>
#include <unistd.h>

enum { FIELDS = 6, SAID_MOST = 1 << 16, PATIENCE_MS = 60000 };

/* Questions of the premises sheet that take any text, by their number in its list. */
static const int field_line[FIELDS] = {1, 4, 5, 6, 7, 9};

static const char *tundish, *shim;
static char folder[] = "/tmp/tundish_kill_XXXXXX";
static unsigned long failures,
        torn; /* torn: of them, a file that was neither the old nor the new one */

static int given[FIELDS];             /* the last answer to each question */
static int on_its_way, on_its_way_to; /* an answer whose question was not left yet; 0: none */
static int next_answer = 1;

static const char original[] = "tundish: 1\n# kept as it is\npremises: {}\n";

static void die(const char *what)
{
	fprintf(stderr, "%s: %s\n", what, strerror(errno));
	exit(2);
}

__attribute__((format(printf, 1, 2))) static void fail(const char *format, ...)
{
	va_list args;

	va_start(args, format);
	vfprintf(stderr, format, args);
	va_end(args);
	fputc('\n', stderr);
	failures++;
}

/* -- chance ---------------------------------------------------------------------------------- */

static uint64_t chance_state;

static unsigned chance(unsigned below)
{
	chance_state ^= chance_state << 13;
	chance_state ^= chance_state >> 7;
	chance_state ^= chance_state << 17;
	return (unsigned)((chance_state >> 16) % below);
}

static void wait_us(unsigned us)
{
	struct timespec time = {0, (long)us * 1000};

	nanosleep(&time, NULL);
}

/* -- one walk on a terminal ------------------------------------------------------------------ */

struct session {
	pid_t pid;
	int terminal;
	char said[SAID_MOST];
	size_t count;
	int status; /* as waitpid() gives it */
};

/* @return a descriptor that keeps it open: what nobody has open can't be read from. */
static int quiet_terminal(const char *name)
{
	struct termios modes;
	int fd = open(name, O_RDWR | O_NOCTTY);

	if (fd < 0 || tcgetattr(fd, &modes) != 0)
		die("terminal");
	modes.c_lflag &= ~(tcflag_t)ECHO;
	modes.c_oflag &= ~(tcflag_t)OPOST;
	if (tcsetattr(fd, TCSANOW, &modes) != 0)
		die("terminal");
	return fd;
}

static void begin(struct session *session, const char *at, const char *how)
{
	static char name[256];
	int held, started[2];
	char none;

	memset(session, 0, sizeof(*session));
	session->terminal = posix_openpt(O_RDWR | O_NOCTTY);
	if (session->terminal < 0 || grantpt(session->terminal) != 0 ||
	    unlockpt(session->terminal) != 0)
		die("terminal");
	snprintf(name, sizeof(name), "%s", ptsname(session->terminal));
	held = quiet_terminal(name);
	if (pipe(started) != 0 || fcntl(started[1], F_SETFD, FD_CLOEXEC) != 0)
		die("pipe");
	session->pid = fork();
	if (session->pid < 0)
		die("fork");
	if (session->pid > 0) {
		/* until the program is there, and has the terminal open */
		close(started[1]);
		if (read(started[0], &none, 1) != 0)
			die("start");
		close(started[0]);
		close(held);
		return;
	}
	close(held);
	close(started[0]);
	setsid();
	for (int fd = 0; fd < 3; fd++) {
		close(fd);
		if (open(name, O_RDWR) != fd)
			_exit(126);
	}
	close(session->terminal);
	if (at != NULL) {
		setenv("LD_PRELOAD", shim, 1);
		setenv("FAIL_AT", at, 1);
		setenv("FAIL_HOW", how, 1);
		setenv("FAIL_LOG", "calls", 1);
	}
	execl(tundish, tundish, "walk", "--plain", "--unsaved", "recover", "house.yaml",
	      (char *)NULL);
	_exit(126);
}

/* Until it asks again. @return false when it has ended. */
static bool asked(struct session *session)
{
	struct pollfd fd = {session->terminal, POLLIN, 0};

	for (;;) {
		ssize_t got;

		if (session->count >= 3 &&
		    memcmp(session->said + session->count - 3, "\n> ", 3) == 0)
			return true;
		if (session->count > SAID_MOST / 2)
			session->count = 0;
		if (poll(&fd, 1, PATIENCE_MS) <= 0) {
			fail("it neither asks nor ends: %.*s", (int)session->count, session->said);
			return false;
		}
		got = read(session->terminal, session->said + session->count,
		           SAID_MOST - 1 - session->count);
		if (got <= 0)
			return false;
		session->count += (size_t)got;
		session->said[session->count] = '\0';
	}
}

static void type(struct session *session, const char *text)
{
	session->count = 0;
	session->said[0] = '\0';
	/* it may have been killed meanwhile */
	if (write(session->terminal, text, strlen(text)) < 0 && errno != EIO)
		die("typing");
}

static bool say(struct session *session, const char *line)
{
	char text[128];

	snprintf(text, sizeof(text), "%s\n", line);
	type(session, text);
	return asked(session);
}

static void end(struct session *session, int signal)
{
	if (signal != 0)
		kill(session->pid, signal);
	waitpid(session->pid, &session->status, 0);
	close(session->terminal);
}

/* -- answers --------------------------------------------------------------------------------- */

static bool answer(struct session *session, int field)
{
	char line[64];

	snprintf(line, sizeof(line), "j %d", field_line[field]);
	if (!say(session, line))
		return false;
	on_its_way = next_answer++;
	on_its_way_to = field;
	snprintf(line, sizeof(line), "f%dv%dx", field, on_its_way);
	if (!say(session, line))
		return false;
	given[field] = on_its_way;
	on_its_way = 0;
	return true;
}

static char *read_file(const char *name)
{
	static char text[1 << 16];
	FILE *file = fopen(name, "rb");
	size_t count = 0;

	if (file != NULL) {
		count = fread(text, 1, sizeof(text) - 1, file);
		fclose(file);
	}
	text[count] = '\0';
	return text;
}

static void write_original(void)
{
	FILE *file = fopen("house.yaml", "wb");

	if (file == NULL || fputs(original, file) < 0 || fclose(file) != 0)
		die("house.yaml");
}

static int found_in(const char *text, int field)
{
	char stem[16];
	const char *at;

	snprintf(stem, sizeof(stem), "f%dv", field);
	at = strstr(text, stem);
	return at == NULL ? 0 : atoi(at + strlen(stem));
}

static bool holds_all(const char *text, bool or_on_its_way)
{
	for (int i = 0; i < FIELDS; i++) {
		int found = found_in(text, i);

		if (found != given[i] && !(or_on_its_way && on_its_way != 0 && i == on_its_way_to &&
		                           found == on_its_way))
			return false;
	}
	return true;
}

/* The next walk takes up what was left, saves and ends. */
static void recover(const char *when)
{
	static struct session session;
	const char *text;

	begin(&session, NULL, NULL);
	if (!asked(&session) || !say(&session, "s"))
		fail("%s: it can't be walked again: %s", when, session.said);
	type(&session, "q\n");
	end(&session, 0);
	if (!WIFEXITED(session.status) || WEXITSTATUS(session.status) != 0)
		fail("%s: the next walk ended with %d: %s", when, session.status, session.said);
	text = read_file("house.yaml");
	if (!holds_all(text, true))
		fail("%s: an answer is lost. The file has:\n%s", when, text);
	if (strstr(text, "# kept as it is") == NULL)
		fail("%s: what was in the file is lost", when);
	if (access(".house.yaml.journal", F_OK) == 0 || access(".house.yaml.lock", F_OK) == 0)
		fail("%s: a journal or a lock stays behind", when);
	if (access(".house.yaml.journal.new", F_OK) == 0)
		fail("%s: a half-made journal stays behind", when);
	for (int i = 0; i < FIELDS; i++)
		given[i] = found_in(text, i);
	on_its_way = 0;
}

/* -- at random ------------------------------------------------------------------------------- */

static void kill_once(unsigned long number)
{
	static struct session session;
	unsigned answers = chance(5), how = chance(8);
	char when[64];

	snprintf(when, sizeof(when), "kill %lu", number);
	begin(&session, NULL, NULL);
	if (how == 0) {
		/* while it starts, or takes up what an earlier kill left */
		wait_us(chance(60000));
		end(&session, SIGKILL);
		return;
	}
	if (!asked(&session) || !say(&session, "1"))
		fail("%s: it does not begin: %s", when, session.said);
	while (answers-- > 0)
		if (!answer(&session, (int)chance(FIELDS)))
			fail("%s: it ended by itself: %s", when, session.said);
	if (how == 1) {
		type(&session, "half typ");
	} else if (how <= 4) {
		type(&session, "s\n");
	} else {
		char line[64];

		on_its_way_to = (int)chance(FIELDS);
		snprintf(line, sizeof(line), "j %d", field_line[on_its_way_to]);
		say(&session, line);
		on_its_way = next_answer++;
		snprintf(line, sizeof(line), "f%dv%dx\n", on_its_way_to, on_its_way);
		type(&session, line);
	}
	wait_us(chance(6000));
	end(&session, SIGKILL);
	/* some are left for the next to find */
	if (chance(4) > 0 || on_its_way != 0)
		recover(when);
}

static void kill_at_random(unsigned long count)
{
	for (unsigned long i = 1; i <= count; i++) {
		kill_once(i);
		if (i % 500 == 0)
			printf("%lu kills\n", i);
	}
	recover("the last");
	printf("%lu kills at random moments, %lu failures\n", count, failures);
}

/* -- at every call --------------------------------------------------------------------------- */

static void start_over(void)
{
	if (system("rm -rf ./* ./.house* ./.local") != 0)
		die("folder");
	mkdir("home", 0700);
	write_original();
	memset(given, 0, sizeof(given));
	on_its_way = 0;
}

/* Two saves, with answers before and between. @return false when it was killed. */
static bool one_script(struct session *session)
{
	return asked(session) && say(session, "1") && answer(session, 0) && answer(session, 1) &&
	       say(session, "s") && answer(session, 2) && answer(session, 0) && say(session, "s");
}

/* What a save may leave: all of the old, or all of the new. */
static void check_whole(const char *when)
{
	const char *text = read_file("house.yaml");
	int count = 0;

	for (int i = 0; i < FIELDS; i++)
		count += found_in(text, i) != 0;
	if (strcmp(text, original) == 0 || (count >= 2 && strstr(text, "# kept as it is") != NULL))
		return;
	torn++;
	fail("%s: the file is neither the old nor the new one:\n%s", when, text);
}

static long count_calls(void)
{
	static struct session session;
	long count;

	start_over();
	begin(&session, "0", "kill");
	if (!one_script(&session))
		fail("the script does not come to its end: %s", session.said);
	type(&session, "q\n");
	end(&session, 0);
	count = strtol(read_file("calls"), NULL, 10);
	if (count < 40)
		fail("only %ld calls were seen: is the shim in?", count);
	return count;
}

static void kill_at(long call)
{
	static struct session session;
	char at[32], when[64];

	snprintf(at, sizeof(at), "%ld", call);
	snprintf(when, sizeof(when), "kill at call %ld", call);
	start_over();
	begin(&session, at, "kill");
	if (one_script(&session))
		type(&session, "q\n");
	end(&session, 0);
	check_whole(when);
	if (torn > 0)
		return; /* there is nothing to recover into */
	recover(when);
	/* it fitted the file, and nothing of it was torn */
	if (access(".house.yaml.journal~", F_OK) == 0)
		fail("%s: what was saved was taken for another's change", when);
}

/* Where a call fails the walk goes on, and says so; a second save gets it all somewhere. */
static void fail_at(long call, const char *how)
{
	static struct session session;
	char at[32], when[64];

	snprintf(at, sizeof(at), "%ld", call);
	snprintf(when, sizeof(when), "call %ld with %s", call, how);
	start_over();
	begin(&session, at, how);
	if (!one_script(&session)) {
		/* nothing was answered: it may say that it can't begin */
		end(&session, 0);
		if (given[0] != 0 || WIFSIGNALED(session.status))
			fail("%s: it ended with %d: %s", when, session.status, session.said);
		check_whole(when);
		return;
	}
	check_whole(when);
	if (strstr(session.said, "Saved") == NULL && !say(&session, "s"))
		fail("%s: the second save ended it: %s", when, session.said);
	if (strchr(how, '+') == NULL) {
		type(&session, "q\n");
		end(&session, 0);
		if (!holds_all(read_file("house.yaml"), false) &&
		    !holds_all(read_file("home/house.yaml"), false))
			fail("%s: an answer is lost: %s", when, session.said);
		return;
	}
	/* no room anywhere: all of it is in memory still, and what there was is as it was */
	check_whole(when);
	if (strstr(session.said, "Not saved") == NULL && !holds_all(read_file("house.yaml"), false))
		fail("%s: it does not say that nothing is saved: %s", when, session.said);
	end(&session, SIGKILL);
}

static void try_calls(void)
{
	static const char *const ways[] = {"5", "28", "28+"}; /* EIO, ENOSPC */
	long count = count_calls(), tried = 0;

	for (long call = 1; call <= count; call++, tried++)
		kill_at(call);
	printf("%ld kills, one at each call, %lu failures\n", tried, failures);
	tried = 0;
	for (size_t way = 0; way < sizeof(ways) / sizeof(ways[0]); way++)
		for (long call = 1; call <= count; call++, tried++)
			fail_at(call, ways[way]);
	printf("%ld calls that failed, %lu failures\n", tried, failures);
}

/* @return whether a save that empties the file first is found out. */
static bool try_broken(void)
{
	long count;

	setenv("FAIL_BROKEN", "1", 1);
	count = count_calls();
	for (long call = 1; call <= count && torn == 0; call++)
		kill_at(call);
	printf("a broken save %s\n", torn > 0 ? "was found out" : "was not found out");
	return torn > 0;
}

int main(int argc, char **argv)
{
	char home[64];
	bool calls = argc >= 4 && strcmp(argv[3], "calls") == 0;
	bool broken = argc >= 4 && strcmp(argv[3], "broken") == 0;

	if (argc < 4) {
		fprintf(stderr, "usage: kill_walk TUNDISH FAIL.so COUNT|calls|broken [SEED]\n");
		return 2;
	}
	tundish = realpath(argv[1], NULL);
	shim = realpath(argv[2], NULL);
	chance_state = argc > 4 ? strtoull(argv[4], NULL, 10) : (uint64_t)time(NULL);
	if (!calls && !broken)
		printf("seed %llu\n", (unsigned long long)chance_state);
	chance_state = chance_state * 2654435761u + 1;
	if (tundish == NULL || shim == NULL || mkdtemp(folder) == NULL || chdir(folder) != 0)
		die("folder");
	snprintf(home, sizeof(home), "%s/home", folder);
	setenv("HOME", home, 1);
	unsetenv("XDG_STATE_HOME");
	start_over();
	if (broken) /* what it reports is what was hoped for */
		failures = try_broken() ? 0 : failures + 1;
	else if (calls)
		try_calls();
	else
		kill_at_random(strtoul(argv[3], NULL, 10));
	if (failures == 0 && chdir("/") == 0) {
		char command[64];

		snprintf(command, sizeof(command), "rm -rf %s", folder);
		if (system(command) != 0)
			die(folder);
	} else {
		printf("see %s\n", folder);
	}
	return failures == 0 ? EXIT_SUCCESS : EXIT_FAILURE;
}

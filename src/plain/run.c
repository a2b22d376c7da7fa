/*
 * Lines from a descriptor, and signals while waiting for them.
 *
 * Signals are let in only while waiting, so none is lost between looking for one and waiting.
 */
#include "tundish/plain/run.h"

#include <errno.h>
#include <signal.h>
#include <string.h>
#include <sys/select.h>
#include <time.h>
#include <unistd.h>

enum { CAUGHT = 4 };

/* The last is heeded first. */
static const int caught[CAUGHT] = {SIGCONT, SIGINT, SIGHUP, SIGTERM};
static volatile sig_atomic_t arrived[CAUGHT];

struct reading {
	int in;
	char bytes[PLAIN_LINE_MOST];
	size_t count;    /* read and not taken yet */
	bool too_long;   /* the line being read did not fit */
	int patience_ms; /* how long to wait for one; -1: without end */
	sigset_t open;   /* the signals that are blocked while waiting */
	struct sigaction before[CAUGHT];
	sigset_t blocked_before;
};

/* -- signals --------------------------------------------------------------------------------- */

static void on_signal(int signal)
{
	for (int i = 0; i < CAUGHT; i++)
		if (caught[i] == signal)
			arrived[i] = 1;
}

/* What the caller's caller ignores (nohup) stays ignored. */
static void take_signals(struct reading *reading)
{
	struct sigaction action = {.sa_handler = on_signal};
	sigset_t mine;

	sigemptyset(&action.sa_mask);
	sigemptyset(&mine);
	for (int i = 0; i < CAUGHT; i++) {
		arrived[i] = 0;
		sigaddset(&mine, caught[i]);
	}
	sigprocmask(SIG_BLOCK, &mine, &reading->blocked_before);
	reading->open = reading->blocked_before;
	for (int i = 0; i < CAUGHT; i++) {
		sigdelset(&reading->open, caught[i]);
		sigaction(caught[i], &action, &reading->before[i]);
		if (reading->before[i].sa_handler == SIG_IGN)
			sigaction(caught[i], &reading->before[i], NULL);
	}
}

static void give_signals(struct reading *reading)
{
	for (int i = 0; i < CAUGHT; i++)
		sigaction(caught[i], &reading->before[i], NULL);
	sigprocmask(SIG_SETMASK, &reading->blocked_before, NULL);
}

/* The one to heed first, 0 if none. */
static int take_signal(void)
{
	for (int i = CAUGHT - 1; i >= 0; i--) {
		if (arrived[i]) {
			arrived[i] = 0;
			return caught[i];
		}
	}
	return 0;
}

/* -- lines ----------------------------------------------------------------------------------- */

/* @return whether there may be something to read; false when a signal came, or time is up. */
static bool wait_for_input(const struct reading *reading)
{
	struct timespec patience = {reading->patience_ms / 1000,
	                            reading->patience_ms % 1000 * 1000000L};
	fd_set set;
	int ready;

	FD_ZERO(&set);
	FD_SET(reading->in, &set);
	ready = pselect(reading->in + 1, &set, NULL, NULL,
	                reading->patience_ms < 0 ? NULL : &patience, &reading->open);
	return ready > 0 || (ready < 0 && errno != EINTR);
}

/* A line too long is passed over whole, and that is said where it ends. */
static void take_line(struct plain *plain, struct reading *reading, const char *line, size_t length)
{
	if (reading->too_long)
		plain_refuse(plain, "That line is too long: it was not taken.");
	else
		plain_take(plain, line, length);
	reading->too_long = false;
}

/* Every whole line that has come. */
static void take_lines(struct plain *plain, struct reading *reading)
{
	size_t start = 0;
	const char *end;

	while ((end = memchr(reading->bytes + start, '\n', reading->count - start)) != NULL) {
		take_line(plain, reading, reading->bytes + start,
		          (size_t)(end - reading->bytes) - start);
		start = (size_t)(end - reading->bytes) + 1;
	}
	reading->count -= start;
	memmove(reading->bytes, reading->bytes + start, reading->count);
	if (reading->count == sizeof(reading->bytes)) {
		reading->too_long = true;
		reading->count = 0;
	}
}

/* @return false at the end of the input, then @p end says which. */
static bool read_more(struct plain *plain, struct reading *reading, struct walk_end *end)
{
	ssize_t got = read(reading->in, reading->bytes + reading->count,
	                   sizeof(reading->bytes) - reading->count);

	if (got > 0) {
		reading->count += (size_t)got;
		take_lines(plain, reading);
		return true;
	}
	if (got < 0 && (errno == EINTR || errno == EAGAIN))
		return true;
	/* a last line may lack its end */
	if (got == 0 && (reading->count > 0 || reading->too_long))
		take_line(plain, reading, reading->bytes, reading->count);
	end->form = got == 0 ? WALK_END_INPUT : WALK_END_LOST;
	return false;
}

/* -- the loop -------------------------------------------------------------------------------- */

/* @return false when it ends the walk. */
static bool hear(struct plain *plain, int signal, struct walk_end *end)
{
	if (signal == SIGINT) {
		plain_interrupt(plain);
		return true;
	}
	if (signal == SIGCONT) {
		plain_resume(plain);
		return true;
	}
	end->form = WALK_END_SIGNAL;
	end->signal = signal;
	return false;
}

static void loop(struct plain *plain, struct reading *reading, struct sink *out,
                 struct walk_end *end)
{
	bool more = true;

	while (more) {
		int signal;

		if (!sink_flush(out, &(struct err){0})) {
			end->form = WALK_END_LOST;
			return;
		}
		if (plain_left(plain, &end->leaving)) {
			end->form = WALK_END_LEFT;
			return;
		}
		more = !wait_for_input(reading) || read_more(plain, reading, end);
		while (more && (signal = take_signal()) != 0)
			more = hear(plain, signal, end);
		if (more)
			plain_tick(plain);
	}
	/* the last line may have been the one that leaves */
	if (end->form == WALK_END_INPUT && plain_left(plain, &end->leaving))
		end->form = WALK_END_LEFT;
	/* what is said next begins a line */
	if (end->form != WALK_END_LEFT)
		sink_text(out, "\n");
	if (!sink_flush(out, &(struct err){0}) && end->form == WALK_END_INPUT)
		end->form = WALK_END_LOST;
}

struct walk_end plain_run(struct walk *walk, const struct walk_host *host,
                          const struct plain_options *options, int in, int out, struct err *err)
{
	/* holds a whole line: not for the stack */
	static struct reading reading;
	struct walk_end end = {.form = WALK_END_FAILED};
	struct sink sink;
	struct plain *plain;

	sink_to_fd(&sink, out);
	plain = plain_create(walk, host, options, &sink);
	if (plain == NULL) {
		err_set(err, ERR_MEMORY, "no memory for the walk");
		sink_finish(&sink);
		return end;
	}
	reading = (struct reading){.in = in,
	                           .patience_ms = host->tick == NULL ? -1 : (int)host->tick_ms};
	take_signals(&reading);
	plain_begin(plain);
	loop(plain, &reading, &sink, &end);
	give_signals(&reading);
	plain_destroy(plain);
	sink_finish(&sink);
	return end;
}

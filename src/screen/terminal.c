/*
 * The terminal's modes and the signals, and the way back from them: after the walk's end, a stop, a
 * crash.
 *
 * One at a time in a process: signal handlers know nothing but what stands here.
 */
#include "capability.h"
#include "inside.h"

#include <errno.h>
#include <fcntl.h>
#include <langinfo.h>
#include <locale.h>
#include <poll.h>
#include <signal.h>
#include <stdlib.h>
#include <string.h>
#include <sys/ioctl.h>
#include <termios.h>
#include <unistd.h>

enum { CRASHES = 6, CAUGHT = 5, BACK_MOST = 256 };

static const int crash_signal[CRASHES] = {SIGSEGV, SIGBUS, SIGILL, SIGFPE, SIGABRT, SIGQUIT};
static const struct {
	int signal;
	char news;
} caught[CAUGHT] = {
        {SIGINT,   NEWS_INTERRUPT},
        {SIGWINCH, NEWS_SIZE     },
        {SIGTSTP,  NEWS_STOP     },
        {SIGHUP,   NEWS_HANGUP   },
        {SIGTERM,  NEWS_TERMINATE},
};

static struct {
	SCREEN *screen;
	int in, out;
	int news[2];
	bool is_tty;
	bool plain_locale; /* it was C: see take_letters() */
	struct termios before;
	struct sigaction crash_before[CRASHES], caught_before[CAUGHT];
	/* what the crash handler writes: fetched while that is still allowed */
	char back[BACK_MOST];
	size_t back_length;
	bool has_other_screen; /* the one of before comes back by itself */
} terminal;

static const char paste_on[] = "\033[?2004h", paste_off[] = "\033[?2004l";

static void send(const char *text, size_t length)
{
	while (length > 0) {
		ssize_t sent = write(terminal.out, text, length);

		if (sent < 0 && errno != EINTR)
			return;
		if (sent > 0) {
			text += sent;
			length -= (size_t)sent;
		}
	}
}

/* -- signals --------------------------------------------------------------------------------- */

static void on_crash(int signal)
{
	send(terminal.back, terminal.back_length);
	if (terminal.is_tty)
		tcsetattr(terminal.in, TCSANOW, &terminal.before);
	/* SA_RESETHAND: the default takes it now */
	raise(signal);
}

static void on_news(int signal)
{
	int kept = errno;

	for (int i = 0; i < CAUGHT; i++) {
		if (caught[i].signal == signal) {
			/* a full pipe holds news enough */
			ssize_t sent = write(terminal.news[1], &caught[i].news, 1);

			(void)sent;
		}
	}
	errno = kept;
}

/* Signals that the caller's caller ignores (nohup, no job control) stay ignored. */
static void take_signals(void)
{
	struct sigaction crash = {.sa_handler = on_crash}, news = {.sa_handler = on_news};

	crash.sa_flags = (int)SA_RESETHAND | SA_NODEFER;
	sigemptyset(&crash.sa_mask);
	sigemptyset(&news.sa_mask);
	for (int i = 0; i < CRASHES; i++)
		sigaction(crash_signal[i], &crash, &terminal.crash_before[i]);
	for (int i = 0; i < CAUGHT; i++) {
		sigaction(caught[i].signal, &news, &terminal.caught_before[i]);
		if (terminal.caught_before[i].sa_handler == SIG_IGN)
			sigaction(caught[i].signal, &terminal.caught_before[i], NULL);
	}
}

static void give_signals(void)
{
	for (int i = 0; i < CRASHES; i++)
		sigaction(crash_signal[i], &terminal.crash_before[i], NULL);
	for (int i = 0; i < CAUGHT; i++)
		sigaction(caught[i].signal, &terminal.caught_before[i], NULL);
}

static bool open_news(struct err *err)
{
	if (pipe(terminal.news) != 0) {
		err_set(err, ERR_IO, "no pipe for signals: %s", strerror(errno));
		return false;
	}
	for (int i = 0; i < 2; i++) {
		fcntl(terminal.news[i], F_SETFL, O_NONBLOCK);
		fcntl(terminal.news[i], F_SETFD, FD_CLOEXEC);
	}
	return true;
}

static void close_news(void)
{
	close(terminal.news[0]);
	close(terminal.news[1]);
}

/* -- modes ----------------------------------------------------------------------------------- */

static void back_add(const char *text)
{
	size_t length = text == NULL ? 0 : strlen(text);

	if (length == 0 || terminal.back_length + length > BACK_MOST)
		return;
	memcpy(terminal.back + terminal.back_length, text, length);
	terminal.back_length += length;
}

/* Attributes off, cursor shown, keypad off, paste marks off, the screen of before. */
static void fetch_back(void)
{
	static const char *const names[] = {"sgr0", "cnorm", "rmkx", "rmcup"};

	terminal.back_length = 0;
	back_add(paste_off);
	for (size_t i = 0; i < sizeof(names) / sizeof(names[0]); i++)
		back_add(capability(names[i]));
	back_add("\r\n");
	terminal.has_other_screen = capability("rmcup") != NULL;
}

/* Out of curses, so that what comes next begins a line. */
static void leave_screen(void)
{
	send(paste_off, sizeof(paste_off) - 1);
	endwin();
	if (!terminal.has_other_screen)
		send("\r\n", 2);
}

/* cbreak keeps Ctrl-C and Ctrl-Z as signals; Ctrl-S and Ctrl-Q become keys. */
static void take_modes(void)
{
	struct termios modes;

	cbreak();
	noecho();
	nonl();
	keypad(stdscr, TRUE);
	intrflush(stdscr, FALSE);
	nodelay(stdscr, TRUE);
	if (terminal.is_tty && tcgetattr(terminal.in, &modes) == 0) {
		modes.c_iflag &= ~(tcflag_t)(IXON | IXOFF);
		tcsetattr(terminal.in, TCSANOW, &modes);
	}
	/* what refresh() after a stop brings back */
	def_prog_mode();
	define_key("\033[200~", CODE_PASTE_BEGIN);
	define_key("\033[201~", CODE_PASTE_END);
	send(paste_on, sizeof(paste_on) - 1);
}

/* In the C locale a letter that is no ASCII is a fault to curses, which then loses what follows too.
 * What a terminal sends there is UTF-8 all the same; it is only shown as `?`. */
static void take_letters(void)
{
	terminal.plain_locale = strcmp(nl_langinfo(CODESET), "ANSI_X3.4-1968") == 0 &&
	                        setlocale(LC_CTYPE, "C.UTF-8") != NULL;
}

static void give_letters(void)
{
	if (terminal.plain_locale)
		setlocale(LC_CTYPE, "C");
	terminal.plain_locale = false;
}

bool terminal_open(const struct screen_options *options, struct err *err)
{
	const char *term = options->term != NULL ? options->term : getenv("TERM");

	memset(&terminal, 0, sizeof(terminal));
	terminal.in = fileno(options->in);
	terminal.out = fileno(options->out);
	terminal.is_tty = tcgetattr(terminal.in, &terminal.before) == 0;
	if (!open_news(err))
		return false;
	/* before curses, which then leaves them alone */
	take_signals();
	if (getenv("ESCDELAY") == NULL)
		set_escdelay(50);
	take_letters();
	terminal.screen = newterm(term, options->out, options->in);
	if (terminal.screen == NULL) {
		give_letters();
		give_signals();
		close_news();
		err_set(err, ERR_IO, "a terminal of the kind `%s` can't be used",
		        term == NULL ? "" : term);
		return false;
	}
	fetch_back();
	take_modes();
	paint_start(options->color, options->theme);
	return true;
}

void terminal_close(void)
{
	leave_screen();
	delscreen(terminal.screen);
	give_letters();
	if (terminal.is_tty)
		tcsetattr(terminal.in, TCSANOW, &terminal.before);
	give_signals();
	close_news();
}

void terminal_stop(void)
{
	struct sigaction news, usual = {.sa_handler = SIG_DFL};

	leave_screen();
	sigemptyset(&usual.sa_mask);
	sigaction(SIGTSTP, &usual, &news);
	raise(SIGTSTP);
	/* here it goes on again */
	sigaction(SIGTSTP, &news, NULL);
	terminal_fit();
	clearok(curscr, TRUE);
	refresh();
	send(paste_on, sizeof(paste_on) - 1);
}

void terminal_fit(void)
{
	struct winsize size;

	if (ioctl(terminal.out, TIOCGWINSZ, &size) == 0 && size.ws_row > 0 && size.ws_col > 0)
		resizeterm(size.ws_row, size.ws_col);
}

int terminal_wait(int timeout_ms)
{
	struct pollfd fds[2] = {
	        {terminal.news[0], POLLIN, 0},
                {terminal.in,      POLLIN, 0}
        };
	char news;
	int ready = poll(fds, 2, timeout_ms);

	if (ready < 0 && errno != EINTR)
		return -1;
	if (ready == 0)
		return NEWS_TIME;
	if (read(terminal.news[0], &news, 1) == 1)
		return news;
	if ((fds[1].revents & (POLLERR | POLLNVAL)) != 0)
		return -1;
	/* hung up, and nothing left to read */
	return (fds[1].revents & POLLHUP) != 0 && (fds[1].revents & POLLIN) == 0 ? -1 : 0;
}

bool screen_usable(const char *term, struct err *err)
{
	term = term != NULL ? term : getenv("TERM");
	if (term == NULL || term[0] == '\0') {
		err_set(err, ERR_USAGE,
		        "TERM is not set: what kind of terminal is this? Try TERM=xterm");
		return false;
	}
	switch (capability_of(term, "cup")) {
	case CAPABILITY_UNKNOWN_TERMINAL:
		err_set(err, ERR_USAGE,
		        "the terminal kind `%.60s` is not known here: try TERM=xterm", term);
		return false;
	case CAPABILITY_ABSENT:
		err_set(err, ERR_USAGE,
		        "a terminal of the kind `%.60s` can't move its cursor: the screen needs "
		        "one that can, such as TERM=xterm",
		        term);
		return false;
	case CAPABILITY_PRESENT:
		break;
	}
	return true;
}

/*
 * The loop: keys to the walk, effects to the host, cells to the terminal. Nothing is written unless
 * something came in.
 */
#include "tundish/screen/run.h"

#include "inside.h"

#include <signal.h>

enum {
	FAILURES_MOST =
	        16, /* times that there was input and yet no key, in a row: the terminal is gone */
	PASTE_PATIENCE_MS = 1000, /* a paste whose end does not come is over */
};

struct running {
	struct walk *walk;
	const struct walk_host *host;
	const struct screen_options *options;
	struct screen screen;
	struct key_reader reader;
	struct walk_end result;
	enum screen_theme theme;
	int failures;
	bool ended;
};

static void end(struct running *run, enum walk_end_form how)
{
	run->result.form = how;
	run->ended = true;
}

/* There and back; where it was begun without colours, they come. */
static void mono(struct running *run)
{
	enum screen_theme other =
	        run->options->theme == THEME_MONO ? THEME_ANY : run->options->theme;

	run->theme = run->theme == THEME_MONO ? other : THEME_MONO;
	paint_theme(run->theme);
	walk_say(run->walk, false,
	         run->theme == THEME_MONO
	                 ? "For the sun: bold and reverse, no colours. g: as before."
	                 : "As before. g: without colours, for the sun.");
}

static void carry_out(struct running *run)
{
	struct walk_effect effect;

	while (!run->ended && walk_next_effect(run->walk, &effect)) {
		walk_host_carry_out(run->host, run->walk, &effect);
		if (effect.form == WALK_MONO)
			mono(run);
		if (effect.form != WALK_LEAVE)
			continue;
		run->result.leaving = effect.leaving;
		end(run, WALK_END_LEFT);
	}
}

static void draw(struct running *run)
{
	int rows, cols;

	getmaxyx(stdscr, rows, cols);
	if ((rows != run->screen.rows || cols != run->screen.cols) &&
	    !screen_resize(&run->screen, rows, cols))
		return;
	walk_draw(run->walk, &run->screen);
	paint(&run->screen, run->options->ascii);
}

static void press(struct running *run, const struct walk_key *key)
{
	run->failures = 0;
	walk_press(run->walk, key);
	carry_out(run);
}

/* Half a word is worth keeping when nobody can end it any more. */
static void keep_typed(struct running *run)
{
	walk_keep_typed(run->walk);
	carry_out(run);
}

static void hear(struct running *run, int news)
{
	if (news == NEWS_INTERRUPT)
		press(run, &(struct walk_key){.name = WALK_KEY_INTERRUPT});
	else if (news == NEWS_SIZE)
		terminal_fit();
	else if (news == NEWS_STOP)
		terminal_stop();
	else {
		keep_typed(run);
		run->result.signal = news == NEWS_HANGUP ? SIGHUP : SIGTERM;
		end(run, WALK_END_SIGNAL);
	}
}

static void read_keys(struct running *run)
{
	struct walk_key key;

	run->failures++;
	while (!run->ended && keys_next(&run->reader, &key))
		press(run, &key);
	if (run->failures > FAILURES_MOST) {
		keep_typed(run);
		end(run, WALK_END_LOST);
	}
}

/* Without end, unless somebody wants to hear of the time that passes. */
static int patience_ms(const struct running *run)
{
	if (run->reader.pasting)
		return PASTE_PATIENCE_MS;
	return run->host->tick == NULL ? -1 : (int)run->host->tick_ms;
}

static void tick(struct running *run)
{
	if (run->host->tick == NULL)
		return;
	run->host->tick(run->host->context, run->walk);
	carry_out(run);
}

/* While nothing comes the walk thinks ahead; nothing is drawn for it. */
static int wait_for_news(struct running *run)
{
	int news;

	do {
		news = terminal_wait(0);
	} while (news == NEWS_TIME && walk_think(run->walk));
	return news == NEWS_TIME ? terminal_wait(patience_ms(run)) : news;
}

static void turn(struct running *run)
{
	bool pasting = run->reader.pasting;
	size_t pasted = run->reader.paste_length;
	int news = wait_for_news(run);
	struct walk_key key;

	tick(run);
	if (run->ended)
		return;
	if (news > 0 && news != NEWS_TIME) {
		hear(run, news);
		return;
	}
	if (news < 0) {
		keep_typed(run);
		end(run, WALK_END_LOST);
		return;
	}
	if (news != NEWS_TIME)
		read_keys(run);
	if (pasting && run->reader.pasting && run->reader.paste_length == pasted &&
	    keys_end_paste(&run->reader, &key))
		press(run, &key);
}

struct walk_end screen_run(struct walk *walk, const struct walk_host *host,
                           const struct screen_options *options, struct err *err)
{
	/* the reader holds a whole paste: not for the stack */
	static struct running run;

	run = (struct running){
	        .walk = walk, .host = host, .options = options, .theme = options->theme};
	run.result.form = WALK_END_FAILED;
	if (!screen_init(&run.screen, 0, 0)) {
		err_set(err, ERR_MEMORY, "no memory for a screen");
		return run.result;
	}
	if (terminal_open(options, err)) {
		carry_out(&run);
		tick(&run);
		while (walk_think(walk))
			;
		draw(&run);
		while (!run.ended) {
			turn(&run);
			if (!run.ended)
				draw(&run);
		}
		terminal_close();
	}
	screen_finish(&run.screen);
	return run.result;
}

/*
 * A line becomes keys, pressed one after the other as a person at the screen would.
 */
#include "inside.h"

#include "tundish/base/text.h"

#include <string.h>

struct plain *plain_create(struct walk *walk, const struct walk_host *host,
                           const struct plain_options *options, struct sink *out)
{
	struct arena arena = {0};
	struct plain *plain = arena_take(&arena, sizeof(*plain));

	if (plain == NULL)
		return NULL;
	/* the struct is in an arena of its own, which ends with it */
	*plain = (struct plain){.walk = walk, .host = host, .options = *options, .out = out};
	plain->own = arena;
	return plain;
}

void plain_destroy(struct plain *plain)
{
	struct arena own;

	if (plain == NULL)
		return;
	arena_finish(&plain->arena);
	own = plain->own;
	arena_finish(&own);
}

bool plain_left(const struct plain *plain, enum walk_leaving *leaving)
{
	*leaving = plain->leaving;
	return plain->left;
}

/* -- keys ------------------------------------------------------------------------------------ */

static void carry_out(struct plain *plain)
{
	struct walk_effect effect;

	while (!plain->left && walk_next_effect(plain->walk, &effect)) {
		walk_host_carry_out(plain->host, plain->walk, &effect);
		if (effect.form != WALK_LEAVE)
			continue;
		plain->leaving = effect.leaving;
		plain->left = true;
	}
}

/* What the next key would wipe away is said at once. */
static void press(struct plain *plain, const struct walk_key *key)
{
	if (plain->left)
		return;
	walk_press(plain->walk, key);
	carry_out(plain);
	tell_message(plain);
}

static void press_named(struct plain *plain, enum walk_key_name name)
{
	press(plain, &(struct walk_key){.name = name});
}

void press_request(struct plain *plain, enum request request)
{
	const char *keys = request_row(request)->keys;
	struct walk_key key;

	if (walk_key_named(keys, strcspn(keys, " "), &key))
		press(plain, &key);
}

/* One of the digits that are the keys of such a request. */
static void press_number(struct plain *plain, size_t number)
{
	const char digit = (char)('0' + number);

	if (number < 1 || number > 9)
		tell(plain, "! It takes a number from 1 to 9 behind it.");
	else
		press(plain, &(struct walk_key){WALK_KEY_TEXT, &digit, 1});
}

void paste(struct plain *plain, const char *text)
{
	press(plain, &(struct walk_key){WALK_KEY_PASTE, text, strlen(text)});
}

bool is_in(const struct plain *plain, unsigned contexts)
{
	return !plain->left && (walk_context(plain->walk) & contexts) != 0;
}

/* -- commands -------------------------------------------------------------------------------- */

static void go_to_line(struct plain *plain, size_t number)
{
	size_t focus, before, count = walk_lines(plain->walk, &focus);

	if (is_in(plain, IN_TASK)) {
		go_to_task(plain, number);
		return;
	}
	if (!is_in(plain, IN_HOUSE | IN_FORM | IN_LOOK) || number > count) {
		tell(plain, "! There is no number %zu here.", number);
		return;
	}
	press_request(plain, REQUEST_FIRST);
	for (walk_lines(plain->walk, &focus); focus < number;) {
		before = focus;
		press_request(plain, REQUEST_DOWN);
		walk_lines(plain->walk, &focus);
		if (focus == before)
			return;
	}
}

/* A number names an item of the house as it does in a list. */
static bool open_number(struct plain *plain, const char *text)
{
	size_t number = number_of(text);

	if (number == 0 || !is_in(plain, IN_HOUSE | IN_LOOK_HOUSE))
		return false;
	if (number > walk_lines(plain->walk, NULL)) {
		tell(plain, "! There is no number %zu here.", number);
		return true;
	}
	go_to_line(plain, number);
	press_request(plain, REQUEST_OPEN);
	return true;
}

/* "/hose" in one line, as it is typed on the screen, or "find hose". */
static bool find(struct plain *plain, const char *text)
{
	static const char word[] = "find ";

	if (strncmp(text, word, strlen(word)) == 0)
		text += strlen(word) - 1;
	else if (text[0] != '/')
		return false;
	if (text[1] == '\0' || !is_in(plain, IN_HOUSE | IN_FORM | IN_LOOK))
		return false;
	press_request(plain, REQUEST_FIND);
	if (is_in(plain, IN_TEXT))
		answer_field(plain, text + 1);
	return true;
}

static void go_back(struct plain *plain)
{
	if (is_in(plain, IN_QUESTION))
		press_request(plain, REQUEST_SAY_STAY);
	else if (is_in(plain, IN_LIST | IN_TEXT))
		press_request(plain, REQUEST_CANCEL);
	else if (is_in(plain, IN_FOUND))
		press_request(plain, REQUEST_FOUND_BACK);
	else if (is_in(plain, IN_FORM | IN_LOOK))
		press_request(plain, REQUEST_BACK);
	else if (is_in(plain, IN_TASK))
		press_request(plain, REQUEST_LOOK);
	else
		tell(plain, "This is the house: q leaves.");
}

/* From an open list or field too: what was not taken is not lost by it, it was not typed yet. */
static void quit(struct plain *plain)
{
	if (is_in(plain, IN_LIST | IN_TEXT))
		press_request(plain, REQUEST_CANCEL);
	if (!is_in(plain, IN_QUESTION))
		press_request(plain, REQUEST_LEAVE);
}

/* @return whether it was one. */
static bool carry_out_command(struct plain *plain, const char *text)
{
	size_t number;

	switch (command_of(text, &number)) {
	case COMMAND_NONE:
		return false;
	case COMMAND_BACK:
		go_back(plain);
		break;
	case COMMAND_JUMP:
		go_to_line(plain, number);
		break;
	case COMMAND_LIST:
		tell_all(plain);
		break;
	case COMMAND_QUIT:
		quit(plain);
		break;
	case COMMAND_HELP:
		press_request(plain, REQUEST_HELP_ANYWHERE);
		break;
	case COMMAND_SAVE:
		if (is_in(plain, IN_QUESTION))
			return false;
		press_request(plain, REQUEST_SAVE_ANYWHERE);
		break;
	}
	return true;
}

/* What fills a screen of its own is read out, and then it is closed: there is nothing to scroll. */
static void read_out(struct plain *plain)
{
	if (is_in(plain, IN_VERDICT)) {
		tell_verdict(plain);
		press_request(plain, REQUEST_BACK);
	}
	if (is_in(plain, IN_TASK) && is_lesson(plain)) {
		tell_verdict(plain);
		press_request(plain, REQUEST_LOOK);
	}
	if (is_in(plain, IN_HELP)) {
		press_request(plain, REQUEST_CLOSE);
		tell_help(plain, walk_context(plain->walk));
	}
}

static void carry_out_request(struct plain *plain, enum request request)
{
	enum { PAGE = 10 };
	size_t focus, count = walk_lines(plain->walk, &focus);
	bool page = request == REQUEST_PAGE_UP || request == REQUEST_PAGE_DOWN;

	/* a page is what fits a screen, and there is none */
	for (int i = 0; page && i < PAGE - 1; i++)
		press_request(plain, request == REQUEST_PAGE_UP ? REQUEST_UP : REQUEST_DOWN);
	if (page)
		request = request == REQUEST_PAGE_UP ? REQUEST_UP : REQUEST_DOWN;
	if (is_in(plain, IN_HOUSE | IN_FORM | IN_LOOK) && focus == count &&
	    (request == REQUEST_DOWN || request == REQUEST_DOWN_LETTER || request == REQUEST_NEXT))
		tell(plain, "This is the last line here.");
	press_request(plain, request);
}

/* -- a line ---------------------------------------------------------------------------------- */

static void take_empty(struct plain *plain)
{
	if (is_in(plain, IN_LIST | IN_TEXT))
		press_request(plain, REQUEST_CANCEL);
	else if (is_in(plain, IN_QUESTION))
		press_request(plain, REQUEST_SAY_STAY);
	else if (is_in(plain, IN_TASK))
		press_request(plain, REQUEST_NEXT_TASK);
	else
		carry_out_request(plain, REQUEST_DOWN);
}

static void answer(struct plain *plain, const char *text)
{
	if (is_in(plain, IN_LIST))
		answer_list(plain, text);
	else if (is_in(plain, IN_TEXT))
		answer_field(plain, text);
	else if (is_in(plain, IN_FORM))
		answer_form(plain, text);
	else if (is_in(plain, IN_TASK))
		answer_task(plain, text);
	else if (is_in(plain, IN_LOOK))
		tell(plain, "! Only to look here: `task` goes back to the task.");
	else
		tell(plain, "! `%s` is no command here: ? lists them.", text);
}

static void take_text(struct plain *plain, const char *text)
{
	enum request request, numbered;
	size_t number;

	/* what is no word of finding goes on from what was found */
	if (is_in(plain, IN_FOUND) && request_of_word(text, IN_FOUND) == REQUEST_NONE &&
	    !same_word(text, "b"))
		press_request(plain, REQUEST_FOUND_STAY);
	request = request_of_word(text, walk_context(plain->walk));
	numbered = numbered_request(text, walk_context(plain->walk), &number);
	if (text[0] == '\0')
		take_empty(plain);
	else if (text[0] == '=' && text[1 + strspn(text + 1, " ")] != '\0')
		answer(plain, text + 1 + strspn(text + 1, " "));
	else if (carry_out_command(plain, text) || open_number(plain, text) || find(plain, text))
		;
	else if (numbered != REQUEST_NONE)
		press_number(plain, number);
	else if (request != REQUEST_NONE && !is_answer_first(plain, text, request))
		carry_out_request(plain, request);
	else
		answer(plain, text);
}

static const char *trimmed(struct plain *plain, const char *line, size_t length)
{
	while (length > 0 && (line[length - 1] == ' ' || line[length - 1] == '\t' ||
	                      line[length - 1] == '\r' || line[length - 1] == '\n'))
		length--;
	while (length > 0 && (*line == ' ' || *line == '\t'))
		line++, length--;
	return arena_copy(&plain->arena, line, length);
}

static void ask(struct plain *plain)
{
	if (!plain->left) {
		tell_where(plain);
		sink_text(plain->out, "> ");
	}
}

void plain_begin(struct plain *plain)
{
	tell_line(plain, 0, "A line is an answer or a command; ? explains, q leaves.");
	carry_out(plain);
	if (plain->host->tick != NULL)
		plain->host->tick(plain->host->context, plain->walk);
	carry_out(plain);
	tell_message(plain);
	ask(plain);
}

void plain_take(struct plain *plain, const char *line, size_t length)
{
	const char *text;

	if (plain->left)
		return;
	arena_reset(&plain->arena);
	plain->message = (struct said){0};
	text = text_is_utf8(line, length, NULL) && memchr(line, '\0', length) == NULL
	               ? trimmed(plain, line, length)
	               : NULL;
	if (plain->options.echo)
		tell_line(plain, 0, text == NULL ? "" : text);
	if (text == NULL) {
		plain_refuse(plain, "That is no text in UTF-8: it was not taken.");
		return;
	}
	take_text(plain, text);
	if (!is_in(plain, IN_QUESTION) && !plain->left)
		plain->asked = (struct said){0};
	read_out(plain);
	ask(plain);
}

void plain_refuse(struct plain *plain, const char *why)
{
	if (plain->left)
		return;
	tell(plain, "! %s", why);
	ask(plain);
}

void plain_interrupt(struct plain *plain)
{
	arena_reset(&plain->arena);
	plain->message = (struct said){0};
	sink_text(plain->out, "\n");
	press_named(plain, WALK_KEY_INTERRUPT);
	ask(plain);
}

void plain_resume(struct plain *plain)
{
	arena_reset(&plain->arena);
	sink_text(plain->out, "\n");
	ask(plain);
}

/* A prompt is open: what is said begins a line, and the question is asked once more. */
void plain_tick(struct plain *plain)
{
	const struct walk_host *host = plain->host;
	const char *message;
	bool trouble;

	if (plain->left || host->tick == NULL)
		return;
	host->tick(host->context, plain->walk);
	carry_out(plain);
	message = walk_message(plain->walk, &trouble);
	if (message[0] == '\0' || strcmp(message, plain->message.text) == 0)
		return;
	sink_text(plain->out, "\n");
	tell_message(plain);
	ask(plain);
}

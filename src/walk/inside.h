/*
 * What the files of src/walk share: the state of a walk, and who changes which part of it.
 *
 *     walk.c        a key becomes a request, a request goes to the view or to what is open over it
 *     requests.c    the table;  key.c, screen.c: keys and cells
 *     house_list.c  the rows of the house, house_change.c: see house_list.h
 *     form_lines.c  the lines of a form         form.c: its keys
 *     field.c       a line of text being typed  options.c     what a question can be answered with
 *     choose.c      a list to choose from       answer.c      giving, clearing, drafting an answer
 *     draft.c       what is half given       meant.c    what was typed
 *     find.c, jump.c  looking through the house   commands.c  a list of all that can be done
 *     copy.c, move.c  one more alike, another place
 *     ask.c         what can still move the verdict
 *     add.c, add_menu.c, place.c, remove.c  adding, naming, removing
 *     history.c     changes, undo, redo, effects    step_words.c  what was undone
 *     verdicts.c    the judge, and what it said verdict_words.c, picture.c, verdict_pane.c  shown
 *     draw.c        the layout                  draw_form.c, draw_list.c, draw_pane.c, draw_fold.c
 *     leave.c       saving and leaving      say.c     the message line
 *     help.c        why this is asked, and the keys
 *     quiz*.c       a task in the place of the verdict: see quiz_inside.h
 */
#ifndef TUNDISH_WALK_INSIDE_H
#define TUNDISH_WALK_INSIDE_H

#include "tundish/base/number.h"
#include "tundish/base/arena.h"
#include "tundish/house/verdict.h"
#include "tundish/walk/quiz.h"
#include "tundish/walk/requests.h"
#include "tundish/walk/tell.h"
#include "tundish/walk/walk.h"

#include "house_list.h"

enum {
	TEXT_MOST = 1024, /* bytes of a field */
	FILTER_MOST = 64,
	MESSAGE_MOST = 240,
	REF_MOST = 64, /* bytes of a ref made here */
};

enum view {
	VIEW_HOUSE,
	VIEW_FORM,
	VIEW_VERDICT,
};

/** What is open over the view. */
enum over {
	OVER_NOTHING,
	OVER_FIELD,    /* a line of text */
	OVER_LIST,     /* a list to choose from */
	OVER_QUESTION, /* yes or no; save, discard or stay */
	OVER_HELP,
};

/** What becomes of what is typed, chosen or said. */
enum purpose {
	FOR_ANSWER,
	FOR_NAME, /* another name for `target.item` */
	FOR_MENU, /* which of walk->addition is to be added */
	FOR_NEW,  /* the name, kind or type of walk->adding */
	FOR_REMOVE,
	FOR_LEAVE,        /* save, discard or stay */
	FOR_LEAVE_URGENT, /* all is saved, but something urgent was left as it is */
	FOR_COPY,    /* the name of the room that walk->target.item is copied to */
	FOR_FIND,    /* what to find */
	FOR_FILE,    /* where to save */
	FOR_COMMAND, /* which request to carry out */
	FOR_MOVE_TO, /* the room that walk->target.item is moved to */
	/* of a quiz */
	FOR_TASK, /* the number that is asked for */
	FOR_TASKS, /* which task to go to */
	FOR_FINISH,
	FOR_LEAVE_QUIZ,
};

enum line_form {
	LINE_HEAD, /* heads a group */
	LINE_NOTE,
	LINE_ANSWER, /* a question of an item */
	LINE_FITTED, /* what is fitted on an inlet: nothing, can't tell, or the protections below */
	LINE_ADD,    /* adds an item */
	LINE_ROOMS,  /* leads on to the house */
	LINE_ITEM,   /* leads on to the form of `item` */
};

/** One line of a form. Texts live in the form's arena. */
struct line {
	enum line_form form;
	const char
	        *where; /* stays the same when the form is made anew; "" of what can't be focused */
	struct item *item;    /* whose it is, of LINE_ADD the parent; NULL: an inlet that the survey
	                         lacks */
	struct item *point;   /* the point it belongs to, or NULL */
	unsigned inlet_index; /* in the kind, where it belongs to an inlet */
	question_index question; /* LINE_ANSWER */
	enum scope scope;        /* LINE_ADD: of what is added */
	int indent;
	bool hidden;      /* folded away: see form_fold() */
	const char *text; /* HEAD, NOTE, ADD, ROOMS, ITEM */
	const char *said; /* ITEM: its verdict in words */
};

/** The form of the premises, a room or a point. */
struct item_form {
	struct arena arena;
	struct item *item;
	bool leaving; /* of the premises: the sheet that is gone through before leaving */
	struct line *line;
	size_t count, room;
	size_t focus; /* a line that can be focused, if there is one */
	int top;      /* first row shown, of the rows of all lines */
};

/** A line of UTF-8 being typed; @p at is between clusters. */
struct field {
	char text[TEXT_MOST + 1];
	size_t length, at;
	bool full; /* the last key did not fit */
};

/** One thing to choose. */
struct choice {
	const char *id; /* what the answer is written as */
	const char *label;
	const char *note;        /* beside it; NULL: none */
	const char *const *also; /* other words for it */
	size_t also_count;
	bool ticked;
};

struct choices {
	struct choice *item;
	size_t count, room;
};

/** A list to choose from, narrowed by what is typed. */
struct chooser {
	struct arena arena;
	const char *title;
	struct choices choices;
	size_t *shown; /* indexes of those that match */
	size_t shown_count;
	size_t focus, top; /* among those shown */
	char filter[FILTER_MOST + 1];
	size_t filter_length;
	bool several; /* one of several may be ticked */
};

/** Something that can be added here. */
struct addition {
	enum scope scope;
	struct item *parent; /* NULL: the inlet of `point` that the survey lacks */
	struct item
	        *after; /* the sibling that it will stand after; NULL: the last, if not `first` */
	bool first;
	struct item *point;
	unsigned inlet_index;
};
enum { ADDITIONS_MOST = 8 };

/** Changes that belong together: undone and redone as one. */
struct step {
	struct changes forward, inverse;
	bool whole; /* it may move more than one verdict, or change what there is */
	const char *
	        ref; /* of the item whose form was shown; "" of the premises; NULL: the house was */
	const char *where; /* the line that had the focus */
	bool leaving;      /* it was the sheet that is gone through before leaving */
};

struct history {
	struct arena arena;
	struct step *step;
	size_t count, room;
	size_t done;      /* steps before it are in force */
	size_t saved;     /* value of `done` when last saved; SIZE_MAX: never again equal */
	struct step open; /* being put together */
};

/** Children of an item with one more among them, or as they are without it. */
struct graft {
	struct item *parent;
	struct item **child;
	size_t count;
	bool nothing_said, cannot_tell;
};

/** Half-given: moves the verdict and nothing else. */
struct draft {
	struct item *item; /* whose `answer` it is, maybe an item of the draft's own; NULL: none */
	struct answer answer;
	struct graft graft[2]; /* items that the survey lacks: an inlet, what is fitted on it */
	size_t graft_count;
	bool had; /* while it is put in: what it stands in place of */
	struct answer was;
	uint16_t of;
	struct arena arena;
};

struct verdicts {
	struct judge *judge;
	bool surveyed;   /* the judge knows the house as it is */
	struct err refused; /* why it can't take it up; ERR_NONE: it can, or was not asked yet */
	struct item *of; /* whose `now` is, NULL: nobody's */
	bool ok;
	struct assessment now;
	struct err err;
	bool drafted; /* `now` is about a draft */
};

/** What is looked for, and where looking began. */
struct finding {
	bool on; /* something was found, and no other key pressed since */
	char text[FILTER_MOST + 1];
	enum view view;
	bool leaving;
	const char *ref, *where; /* in the arena of the history; ref NULL: the house */
	size_t row;              /* of the house */
};

/** A quiz, where the walk is one. The task stands in the verdict's place: VIEW_VERDICT. */
struct quizzing {
	struct attempt *attempt; /* NULL: it is none */
	enum quiz_pane pane;
	enum quiz_pane before; /* of a lesson: what it was opened over, */
	bool looked;           /* or that it was while looking round */
	size_t task, focus; /* the one that is open; which of its answers is marked, from 1, 0: none */
	size_t shown;       /* the task that the host was told of last; SIZE_MAX: none */
	bool held;          /* what is marked, or what an answer was worth, has to be in sight */
	bool timed;
	unsigned minutes; /* left */
};

struct walk {
	struct arena arena;   /* owns the walk itself */
	struct arena scratch; /* forgotten at each key and each drawing */
	struct survey *survey;
	const struct rulebook *book;
	struct walk_options options;

	enum view view, view_before;
	enum over over, over_before;
	enum purpose purpose;
	struct house_list house;
	struct item_form form;
	struct item_form probe; /* the lines of another item, looked through out of sight */
	struct finding finding;
	struct field field;
	struct chooser chooser;
	struct line target; /* what is being answered, named or removed; copied from the form */
	struct addition addition[ADDITIONS_MOST], adding;
	size_t addition_count;

	struct history history;
	struct draft draft;
	struct verdicts verdicts;
	struct quizzing quiz;

	struct walk_effect *effect;
	size_t effect_first, effect_count, effect_room;

	const char
	        *came_from; /* ref of the point whose verdict led to the form shown; NULL: none */
	bool came_from_leaving; /* or the sheet that is gone through before leaving */

	bool folded; /* what can't move the verdict and was not answered is out of sight */
	int pane_top, help_top;
	char message[MESSAGE_MOST];
	bool trouble;     /* the message is about something wrong */
	bool value_wrong; /* what is in the field is not a value: `message` says why */
	bool asks_urgent; /* the question before leaving speaks of what is urgent */
	bool leave_when_saved, interrupted, left;
	int page;       /* rows of the view at its last drawing */
	int rows, cols; /* of that drawing; 0: none yet */
	bool drawn;     /* since the last key */
	struct screen sketch;
};

/* say.c */
void say(struct walk *walk, const char *format, ...) __attribute__((format(printf, 2, 3)));
void say_trouble(struct walk *walk, const char *format, ...) __attribute__((format(printf, 2, 3)));
/** What asks for it: the key that is shown; in the walk as lines the word. */
const char *key_words(struct walk *walk, enum request request);

/* leave.c */
void leave_save(struct walk *walk);
void leave_ask_file(struct walk *walk);
/** Leave, or ask first. */
void leave_ask(struct walk *walk);
/** Leave, and ask nothing. */
void leave_at_once(struct walk *walk, enum walk_leaving leaving);
void leave_interrupt(struct walk *walk);
/** Whether it answers the question that is open. */
bool leave_can_say(const struct walk *walk, enum request request);
void leave_question_press(struct walk *walk, enum request request);

/* walk.c */
void show_form(struct walk *walk, struct item *item);
void show_house(struct walk *walk);
/** The sheet that is gone through before leaving. */
void show_leaving(struct walk *walk);
/** The context of the view alone, whatever is open over it. */
enum context view_context(const struct walk *walk);
/** Carry out a request as if its first key had been pressed. */
void walk_request(struct walk *walk, enum request request, const struct walk_key *key);

/* form_lines.c */
/** The lines of walk->form.item. */
void form_build(struct walk *walk);

/* form.c, ask.c */
/** Make the lines anew; the focus stays on the same line if it is still there. */
void form_rebuild(struct walk *walk);
struct line *form_line(struct walk *walk);
bool line_can_focus(const struct line *line);
/** Whether its answer is typed: a number, a date, a text. */
bool line_is_typed(const struct walk *walk, const struct line *line);
/** Hide what is folded away, and heads with nothing left below them. */
void form_fold(struct walk *walk);
/** Whether its answer, or what is fitted, was given. */
bool line_is_answered(const struct line *line);
void form_focus(struct walk *walk, const char *where);
void form_move(struct walk *walk, int by);
/** Focus the first question of this form that can move the verdict, if there is one. */
void form_first_ask(struct walk *walk);
/** Go to the next question that can still move the verdict, here or where else it is asked. */
void form_next_ask(struct walk *walk);
void form_press(struct walk *walk, enum request request, const struct walk_key *key);
/** The inlet that is asked about, by its place in the kind; INLETS_MOST where it is none. */
unsigned ask_inlet(const struct walk *walk, const struct ask *ask);
/** Whose form asks it: a point, a room, or the premises. */
const struct item *ask_home(const struct walk *walk, const struct ask *ask);
bool line_is_asked(struct walk *walk, const struct line *line);

/* field.c: fields */
void field_set(struct field *field, const char *text);
void field_insert(struct field *field, const char *text, size_t length);
bool field_press(struct field *field, enum request request);

/* options.c: what can be answered */
/** Everything a question can be answered with, in @p arena; nothing for numbers, dates and texts.
 */
struct choices options_of(struct walk *walk, const struct item *item, question_index question,
                          struct arena *arena);
/** The option that is plainly yes or no (@p word), or NULL: of that id, or the only one whose label
 * begins with the word. */
const char *option_by_word(const struct question *question, const char *word);
/** One more to choose, where @p label is not NULL. */
void choice_add(struct arena *arena, struct choices *choices, const char *id, const char *label,
                const char *note);
/** How an answer is shown, in @p arena. */
const char *value_text(struct walk *walk, const struct item *item, question_index question,
                       struct arena *arena);
/** What an item is called, in @p arena. */
const char *item_title(const struct walk *walk, const struct item *item, struct arena *arena);
/** What may be typed: unit and range; how a date is written. */
const char *form_words(const struct question *question, struct arena *arena);

/* choose.c */
void choose_open(struct walk *walk, enum purpose purpose, const char *title, struct choices choices,
                 bool several, const char *chosen);
void choose_press(struct walk *walk, enum request request, const struct walk_key *key);

/* answer.c */
void answer_open(struct walk *walk, const struct line *line, const struct walk_key *first);
bool answer_give(struct walk *walk, const struct line *line, const char *text);
void answer_clear(struct walk *walk, const struct line *line);
bool answer_fitted(struct walk *walk, const struct line *line, const char *what);
void answer_keep(struct walk *walk, int then, bool opens);
/** What is typed or looked at so far, of whatever is being asked. */
void draft_text(struct walk *walk, const char *text);

/* meant.c */
/** What was typed, as the survey writes it; @p text itself where nothing else was meant. */
const char *meant(struct walk *walk, const struct question *question, const char *text);

/* draft.c */
void draft_none(struct walk *walk);
void draft_answer(struct walk *walk, const struct line *line, const char *text);
void draft_addition(struct walk *walk, const struct addition *adding, const char *text);
/** Put it in, to be judged. @return false where there is none; else draft_take() must follow. */
bool draft_put(struct walk *walk);
void draft_take(struct walk *walk);
/** Put it in where the verdict is about it, to be put into words. @return as draft_put(). */
bool draft_speaks(struct walk *walk);
/** Whether the draft says what a point is or what feeds it: then the house has another shape. */
bool draft_shapes(const struct walk *walk);

/* add.c, add_menu.c, place.c */
void add_menu(struct walk *walk);
void add_begin(struct walk *walk, const struct addition *addition);
void add_named(struct walk *walk, const char *text);
/** Say what was done about the point that is shown or under the cursor. */
void add_done(struct walk *walk);
void name_open(struct walk *walk);
void remove_ask(struct walk *walk);
void remove_do(struct walk *walk);
/** The inlet's item, made if the survey lacks it, within the open step; NULL: could not. */
struct item *inlet_item(struct walk *walk, struct item *point, unsigned inlet_index);

/** The item under the cursor that can be taken out or moved by itself, or NULL. */
struct item *item_under_cursor(struct walk *walk);
/** Whether a new item of a scope below @p parent moves more than one verdict. */
bool shapes_house(const struct walk *walk, const struct item *parent, enum scope scope);
/** Put an item of a scope below @p parent after the sibling of that ref, "" for the first, within
 * the open step; NULL: could not. */
struct item *put_item(struct walk *walk, struct item *parent, enum scope scope, const char *ref,
                      const char *after);
/** A ref for a new item below @p parent, made from its name where it has one. */
const char *new_ref(struct walk *walk, enum scope scope, const struct item *parent,
                    const char *name);
/** Show a new item where it is answered. */
void show_added(struct walk *walk, struct item *item);

/* find.c */
void find_ask(struct walk *walk);
void find_text(struct walk *walk, const char *text);
/** @return whether the request was one of finding. */
bool find_press(struct walk *walk, enum request request);
/** The next question that is not answered, in this form or after it in the house. */
void find_open(struct walk *walk);

/* jump.c */
void jump_verdict(struct walk *walk, enum request request);
void jump_group(struct walk *walk, int step);
void jump_room(struct walk *walk, size_t number);

/* commands.c */
void commands_open(struct walk *walk);
void commands_take(struct walk *walk, const char *id);

/* copy.c */
void copy_ask(struct walk *walk);
void copy_named(struct walk *walk, const char *name);
void repeat_last(struct walk *walk);

/* move.c */
void move_ask(struct walk *walk);
void move_to_room(struct walk *walk, const char *ref);
void move_among(struct walk *walk, bool later);
/** The ref of the sibling of its scope that an item stands after; "" for the first. */
const char *stands_after(const struct item *item);

/* history.c */
/** Make one change, as part of the step that is being put together. @p whole: see struct step. */
bool step_change(struct walk *walk, const char *where, const char *before, const char *after,
                 bool whole);
/** End the step: keep it, tell of it; or where @p ok is false take back what was done of it.
 * @return @p ok. */
bool step_end(struct walk *walk, bool ok);
void history_undo(struct walk *walk);
void history_redo(struct walk *walk);
void effect_add(struct walk *walk, enum walk_effect_form form, const struct changes *changes,
                enum walk_leaving leaving);

/* step_words.c */
/** What a step is about: an item that came, went or moved; or a question, and its answer. */
struct about {
	const char *thing;       /* NULL: it is not there as things stand */
	const char *value;       /* NULL: not answered, or no question */
	const struct item *came; /* what came, is back or moved; else NULL */
};
struct about step_about(struct walk *walk, const struct step *step);
/** What was just undone or done again. @p before: what it was about before that. */
const char *step_words(struct walk *walk, const struct step *step, struct about before,
                       bool undone);

/* verdicts.c */
/** The whole house has to be judged anew. */
void verdicts_all_stale(struct walk *walk);
/** Only one point has. */
void verdicts_stale(struct walk *walk, const struct item *point);
/** The verdict of a point as answered, with the draft if there is one. NULL: see verdicts.err. */
const struct assessment *verdict_now(struct walk *walk, struct item *point);

/* quiz.c, quiz_go.c, quiz_keys.c */
bool quiz_on(const struct walk *walk);
/** Begin it, where the options say so. */
void quiz_begin(struct walk *walk);
/** Whether the verdict of a point may not be told, nor anything that follows from it. */
bool quiz_hides(const struct walk *walk, const struct item *point);
/** @return whether the request was one of the quiz, and done. */
bool quiz_press(struct walk *walk, enum request request, const struct walk_key *key);
/** The context of the view. */
enum context quiz_context(const struct walk *walk);
/** A number was typed; a task chosen; handing in or leaving asked about. */
void quiz_typed(struct walk *walk, const char *text);
void quiz_listed(struct walk *walk, const char *id);
void quiz_said(struct walk *walk, enum request request);
void quiz_ask_leave(struct walk *walk);
/** Behind the name on the title line: how far it is, in little room shorter. */
const char *quiz_state(struct walk *walk, bool brief);
/** What Enter does, in a word, and whether a request is of use. */
const char *quiz_enter_words(const struct walk *walk);
bool quiz_is_of_use(struct walk *walk, enum request request);

/* verdict_pane.c */
/** Point under the cursor or shown, or NULL. */
struct item *point_shown(struct walk *walk);

#endif

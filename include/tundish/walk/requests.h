/**
 * @file
 * All that can be asked of the walk, in one table: the keys, the footer, the key list, the man page
 * and the plain mode come from it.
 */
#ifndef TUNDISH_WALK_REQUESTS_H
#define TUNDISH_WALK_REQUESTS_H

#include "tundish/walk/key.h"

#include <stddef.h>

/** Where a key arrives. Flags; ORDER CONTEXT: context_names in walk/requests.c. */
enum context {
	IN_HOUSE = 1 << 0,    /* the list of the house */
	IN_FORM = 1 << 1,     /* the form of one item, no field open */
	IN_VERDICT = 1 << 2,  /* the verdict pane */
	IN_LIST = 1 << 3,     /* a list to choose from; letters narrow it */
	IN_TEXT = 1 << 4,     /* an open field: letters are text */
	IN_QUESTION = 1 << 5, /* a yes or no, or save, discard, stay */
	IN_HELP = 1 << 6,
	IN_FOUND = 1 << 7,      /* over a view, just after something was found in it */
	IN_TASK = 1 << 8,       /* of a quiz: the task, or the result */
	IN_LOOK_HOUSE = 1 << 9, /* the list of the house, to look at only */
	IN_LOOK_FORM = 1 << 10, /* a form, to look at only */
	IN_LOOK = IN_LOOK_HOUSE | IN_LOOK_FORM,
	IN_QUIZ = IN_TASK | IN_LOOK,
	IN_WALK = IN_HOUSE | IN_FORM | IN_VERDICT,
	IN_VIEWS = IN_WALK | IN_QUIZ,
	IN_ALL = IN_VIEWS | IN_LIST | IN_TEXT | IN_QUESTION | IN_HELP | IN_FOUND,
};

/*
 * X(id, contexts, keys, plain word, footer, help)
 *
 * keys are words for walk_key_named(), the first is the one that is shown; footer is short, ""
 * where it needs none there. In one context a key means one thing: tests/test_walk.c holds the
 * table to it. Order: that of footer and key list.
 */
#define REQUESTS(X)                                                                                \
	X(OPEN, IN_HOUSE | IN_LOOK_HOUSE, "Enter Right", "open", "open",                           \
	  "open the form of this item")                                                            \
	X(ANSWER, IN_FORM, "Enter", "answer", "answer",                                            \
	  "answer this question, open or add this item")                                           \
	X(PICK, IN_FORM | IN_TASK, "1 2 3 4 5 6 7 8 9", "pick", "",                                \
	  "give the answer with this number, or begin to type a number")                           \
	X(GIVE, IN_TASK, "Enter", "give", "answer",                                                \
	  "give the answer that is marked, or type a number; where it was given, go on")           \
	X(NEXT_TASK, IN_TASK, "Space", "next", "next",                                             \
	  "the next task without an answer; after the last of them the result")                    \
	X(TO_TASK, IN_LOOK, "Space", "task", "task", "back to the task")                           \
	X(LOOK, IN_TASK, "Esc Left Backspace", "look", "look",                                     \
	  "look at the outlet or appliance and the rest of the house")                             \
	X(TASKS, IN_QUIZ, "t", "tasks", "tasks", "list all tasks, to go to one")                   \
	X(TASK_AFTER, IN_TASK, "] Tab", "after", "", "the next task")                              \
	X(TASK_BEFORE, IN_TASK, "[ Shift-Tab", "before", "", "the task before")                    \
	X(FINISH, IN_QUIZ, "f", "finish", "hand in",                                               \
	  "hand in: the quiz is over and its result is shown; asks first while something is open") \
	X(RESULT, IN_QUIZ, "r", "result", "result", "read the result, once it is over")            \
	X(YES, IN_FORM, "y", "yes", "", "answer yes")                                              \
	X(NO, IN_FORM, "n", "no", "", "answer no")                                                 \
	X(NOTHING, IN_FORM, "0", "nothing", "",                                                    \
	  "nothing is fitted on this inlet (in a number: begin to type it)")                       \
	X(NEXT_ASK, IN_HOUSE | IN_FORM, "Space", "next", "next *",                                 \
	  "go to the next question that can still move the verdict (marked *); in the house: to "  \
	  "the next outlet or appliance that has one")                                             \
	X(BACK, IN_FORM | IN_VERDICT | IN_LOOK, "Esc Left Backspace", "back", "back",              \
	  "go back to the view before")                                                            \
	X(SAVE, IN_WALK, "s", "save", "save", "save the survey")                                   \
	X(SAVE_AS, IN_WALK, "Ctrl-O", "saveas", "",                                                    \
	  "save to another file, whose path is asked for; later saves go there too")               \
	X(ADD, IN_HOUSE | IN_FORM, "a", "add", "add",                                              \
	  "add a room, an outlet or appliance, a protection ...")                                  \
	X(VERDICT, IN_HOUSE | IN_FORM | IN_QUIZ, "v", "verdict", "verdict",                        \
	  "read the whole verdict")                                                                \
	X(LEAVING, IN_WALK, "l", "leaving", "leaving",                                             \
	  "before leaving: what is urgent or open, who was there, sign off")                       \
	X(DONE, IN_WALK, "w", "done", "done", "say what was done about it before leaving")         \
	X(UNDO, IN_WALK, "u Ctrl-_", "undo", "undo",                                               \
	  "take the last change back, as often as you like")                                       \
	X(CLEAR, IN_FORM, "x Delete", "clear", "clear", "take the answer back: not answered")      \
	X(CANNOT_TELL, IN_FORM, "t", "cannot", "",                                                 \
	  "looked, and it can't be told: nobody is asked again")                                   \
	X(REMOVE, IN_HOUSE | IN_FORM, "d", "remove", "remove",                                     \
	  "remove this item with all it holds; asks first")                                        \
	X(RENAME, IN_HOUSE | IN_FORM, "e", "name", "name", "give this item another name")          \
	X(FOLD, IN_FORM, "z", "fold", "fold",                                                      \
	  "fold away what can't move the verdict and was not answered, or show it again")          \
	X(REPEAT, IN_HOUSE | IN_FORM, "r", "repeat", "repeat",                                     \
	  "take over what is still open from the last one of this kind; in a room: one more like " \
	  "its last")                                                                              \
	X(COPY, IN_HOUSE | IN_FORM, "c", "copy", "copy",                                           \
	  "another one like this, next to it; a room with all that is in it")                      \
	X(MOVE, IN_HOUSE | IN_FORM, "m", "move", "move",                                           \
	  "move this outlet or appliance to another room")                                         \
	X(EARLIER, IN_HOUSE | IN_FORM, "<", "earlier", "",                                         \
	  "put this item before the one before it; a protection: nearer to the supply")            \
	X(LATER, IN_HOUSE | IN_FORM, ">", "later", "", "put this item after the one after it")     \
	X(FIND, IN_HOUSE | IN_FORM | IN_LOOK, "/", "find", "find",                                 \
	  "find a word in names, questions and answers, in the whole house")                       \
	X(FOUND_NEXT, IN_FOUND, "n", "again", "next",                                              \
	  "the next place that has it; any key but these goes on from here")                       \
	X(FOUND_PREVIOUS, IN_FOUND, "N", "former", "before", "the place before that has it")       \
	X(FOUND_STAY, IN_FOUND, "Enter", "stay", "stay here", "stay here, and end finding")        \
	X(FOUND_BACK, IN_FOUND, "Esc", "return", "go back", "go back to where finding began")      \
	X(NEXT_OPEN, IN_HOUSE | IN_FORM, "o", "unanswered", "",                                    \
	  "go to the next question that is not answered, here or further on in the house")         \
	X(NEXT_SHORT, IN_HOUSE | IN_FORM, "!", "short", "",                                        \
	  "go to the next outlet or appliance that is short or urgent")                            \
	X(NEXT_UNPROVEN, IN_HOUSE | IN_FORM, "p", "unproven", "",                                  \
	  "go to the next one that is unproven or was not seen")                                   \
	X(NEXT_GROUP, IN_HOUSE | IN_FORM | IN_LOOK, "]", "section", "", "the next group or room")  \
	X(PREVIOUS_GROUP, IN_HOUSE | IN_FORM | IN_LOOK, "[", "backsection", "",                    \
	  "the group or room before")                                                              \
	X(ROOM, IN_HOUSE, "1 2 3 4 5 6 7 8 9", "room", "", "go to the room with this number")      \
	X(COMMANDS, IN_VIEWS, ":", "commands", "all",                                              \
	  "list all that can be done here; letters narrow it")                                     \
	X(REDO, IN_WALK, "Ctrl-R", "redo", "", "make the change again that was taken back")        \
	X(MONO, IN_VIEWS, "g", "mono", "mono",                                                     \
	  "for the sun: bold and reverse, no colours; or as before")                               \
	X(SAVE_ANYWHERE, IN_ALL, "Ctrl-S", "save", "", "save the survey, from anywhere")           \
	X(UP, IN_VIEWS | IN_LIST | IN_HELP, "Up Ctrl-P", "up", "", "up")                           \
	X(DOWN, IN_VIEWS | IN_LIST | IN_HELP, "Down Ctrl-N", "down", "", "down")                   \
	X(UP_LETTER, IN_VIEWS | IN_HELP, "k", "up", "", "up")                                      \
	X(DOWN_LETTER, IN_VIEWS | IN_HELP, "j", "down", "", "down")                                \
	X(NEXT, IN_WALK | IN_LOOK, "Tab", "after", "",                                             \
	  "the next item; from an open field: take the value and go on")                           \
	X(PREVIOUS, IN_WALK | IN_LOOK, "Shift-Tab", "before", "", "the item before")               \
	X(PAGE_UP, IN_VIEWS | IN_LIST | IN_HELP, "PgUp", "pageup", "", "a page up")                \
	X(PAGE_DOWN, IN_VIEWS | IN_LIST | IN_HELP, "PgDn", "pagedown", "", "a page down")          \
	X(FIRST, IN_VIEWS | IN_LIST | IN_HELP, "Home", "first", "", "the first")                   \
	X(LAST, IN_VIEWS | IN_LIST | IN_HELP, "End", "last", "", "the last")                       \
	X(TAKE, IN_LIST, "Enter Tab", "take", "take", "take what is marked")                       \
	X(TICK, IN_LIST, "+", "tick", "", "one of several: mark this one too")                     \
	X(KEEP, IN_TEXT, "Enter", "keep", "keep",                                                  \
	  "keep what is typed; a field that follows opens")                                        \
	X(KEEP_NEXT, IN_TEXT, "Tab", "keep", "", "the same")                                       \
	X(KEEP_PREVIOUS, IN_TEXT, "Shift-Tab", "keep", "",                                         \
	  "keep what is typed and go to the one before")                                           \
	X(KEEP_DOWN, IN_TEXT, "Down", "keep", "", "keep what is typed, and type no more")          \
	X(KEEP_UP, IN_TEXT, "Up", "keep", "", "the same, upward")                                  \
	X(CANCEL, IN_TEXT | IN_LIST, "Esc", "cancel", "cancel", "leave the answer as it was")      \
	X(TEXT_LEFT, IN_TEXT, "Left Ctrl-B", "", "", "a character to the left")                    \
	X(TEXT_RIGHT, IN_TEXT, "Right Ctrl-F", "", "", "a character to the right")                 \
	X(TEXT_FIRST, IN_TEXT, "Home Ctrl-A", "", "", "to the start")                              \
	X(TEXT_LAST, IN_TEXT, "End Ctrl-E", "", "", "to the end")                                  \
	X(TEXT_BACKSPACE, IN_TEXT | IN_LIST, "Backspace", "", "", "delete the character before")   \
	X(TEXT_DELETE, IN_TEXT, "Delete Ctrl-D", "", "", "delete the character under the cursor")  \
	X(TEXT_KILL_END, IN_TEXT, "Ctrl-K", "", "", "delete to the end")                           \
	X(TEXT_KILL_START, IN_TEXT | IN_LIST, "Ctrl-U", "", "", "delete to the start")             \
	X(TEXT_KILL_WORD, IN_TEXT, "Ctrl-W", "", "", "delete the word before")                     \
	X(SAY_YES, IN_QUESTION, "y", "yes", "yes", "yes")                                          \
	X(SAY_SAVE, IN_QUESTION, "s", "save", "save", "save, then leave")                          \
	X(SAY_DISCARD, IN_QUESTION, "d", "discard", "discard",                                     \
	  "leave and forget what was not saved")                                                   \
	X(SAY_LOOK, IN_QUESTION, "l", "look", "look", "look at what is urgent: stay")              \
	X(SAY_STAY, IN_QUESTION, "n Enter Esc", "stay", "no", "no: stay")                          \
	X(CLOSE, IN_HELP, "Esc Enter q Left", "back", "close", "close the key list")               \
	X(HELP, IN_VIEWS, "?", "help", "help", "why this is asked, and all keys")                  \
	X(HELP_ANYWHERE, IN_ALL, "Ctrl-G", "help", "help", "the same, from anywhere")              \
	X(LEAVE, IN_VIEWS, "q", "quit", "leave",                                                   \
	  "leave; asks when something is not saved, or a quiz is not over")                        \
	X(INTERRUPT, IN_ALL, "Ctrl-C", "quit", "leave", "leave; a second time: at once")

enum request {
#define REQUEST_ID(id, contexts, keys, word, footer, help) REQUEST_##id,
	REQUESTS(REQUEST_ID)
#undef REQUEST_ID
	        REQUEST_COUNT,
	REQUEST_NONE = REQUEST_COUNT, /* no request: text where text is taken, else nothing */
};

struct request_row {
	const char *id;
	unsigned contexts;
	const char *keys, *word, *footer, *help;
};

const struct request_row *request_row(enum request request);

/** What a key asks for in a context (one flag), or REQUEST_NONE. Letters mean the same in upper and
 * lower case, unless the context tells them apart. */
enum request request_of_key(const struct walk_key *key, enum context context);

const char *context_name(enum context context);

#endif

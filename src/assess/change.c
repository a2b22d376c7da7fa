#include "tundish/assess/survey.h"

#include "survey_edit.h"

#include "tundish/base/text.h"

#include <string.h>

/* One name between the slashes of a path. */
struct word {
	const char *text;
	size_t length;
};

enum { WORDS_MOST = 8 };

struct path {
	struct word word[WORDS_MOST];
	size_t count;
};

static bool word_is(struct word word, const char *text)
{
	return text_is(word.text, word.length, text);
}

static bool path_split(const char *where, struct path *path)
{
	path->count = 0;
	for (;;) {
		const char *end = where + strcspn(where, "/");

		if (path->count == WORDS_MOST || end == where)
			return false;
		path->word[path->count++] = (struct word){where, (size_t)(end - where)};
		if (*end == '\0')
			return true;
		where = end + 1;
	}
}

/* -- where a path leads ----------------------------------------------------------------- */

/* The question by its place alone: for answers that stayed when the kind or type changed. */
static question_index question_anywhere(const struct rulebook *book, enum scope scope,
                                        struct word at, struct word key)
{
	for (size_t i = 0; i < book->question_count; i++) {
		const struct question *question = &book->question[i];

		if (question->scope == scope && word_is(key, question->id) &&
		    word_is(at, question->at))
			return (question_index)i;
	}
	return QUESTION_NONE;
}

static question_index question_at(const struct survey *survey, const struct item *item,
                                  struct word at, struct word key)
{
	const struct rulebook *book = survey->book;
	char map[64] = "";
	question_index found;

	if (at.length >= sizeof(map))
		return QUESTION_NONE;
	memcpy(map, at.text, at.length);
	map[at.length] = '\0';
	found = rulebook_question(book, item->scope, item_owner(item), map, key.text, key.length);
	if (found != QUESTION_NONE)
		return found;
	for (size_t i = 0; i < item->answer_count; i++) {
		const struct question *question = &book->question[item->answer[i].question];

		if (word_is(key, question->id) && word_is(at, question->at))
			return item->answer[i].question;
	}
	return question_anywhere(book, item->scope, at, key);
}

static bool find_answer(const struct survey *survey, struct item *item, const struct word *word,
                        size_t count, struct target *out)
{
	struct word at = {"", 0};

	if (count == 0 || count > 2)
		return false;
	if (count == 2)
		at = word[0];
	out->form = TARGET_ANSWER;
	out->item = item;
	out->question = question_at(survey, item, at, word[count - 1]);
	return out->question != QUESTION_NONE;
}

/* Which list of an item a word names, or SCOPE_COUNT. */
static enum scope list_named(const struct item *item, struct word word)
{
	for (enum scope scope = SCOPE_PART; scope < SCOPE_OUTCOME; scope++)
		if (scope_holds(item->scope, scope) && word_is(word, survey_list_key(scope)))
			return scope;
	return SCOPE_COUNT;
}

static bool presence(struct item *parent, enum scope scope, struct word ref, struct target *out)
{
	out->form = TARGET_PRESENCE;
	out->item = parent;
	out->scope = scope;
	out->ref = ref.text;
	out->ref_length = ref.length;
	return true;
}

/* Goes down the lists that the words name. */
static bool find_below(const struct survey *survey, struct item *item, const struct word *word,
                       size_t count, struct target *out)
{
	enum scope scope;

	while (count > 0 && (scope = list_named(item, word[0])) != SCOPE_COUNT) {
		if (count == 1 && item->scope == SCOPE_INLET) {
			out->form = TARGET_KNOWN;
			out->item = item;
			return true;
		}
		if (count == 1)
			return false;
		if (count == 2)
			return presence(item, scope, word[1], out);
		item = item_named(item, scope, word[1].text, word[1].length);
		if (item == NULL)
			return false;
		word += 2;
		count -= 2;
	}
	return find_answer(survey, item, word, count, out);
}

/* `premises` and `supply` are two maps of one item; parts, branches and rooms stand at the top. */
static bool find_in_premises(const struct survey *survey, const struct path *path,
                             struct target *out)
{
	struct item *premises = survey->premises;
	const struct word *word = path->word;

	if (word_is(word[0], "supply")) {
		if (path->count == 3 && word_is(word[1], survey_list_key(SCOPE_PROTECTION)))
			return presence(premises, SCOPE_PROTECTION, word[2], out);
		return path->count == 2 && find_answer(survey, premises, word, 2, out);
	}
	if (word_is(word[0], "premises"))
		return find_answer(survey, premises, word + 1, path->count - 1, out) ||
		       (path->count == 2 && find_answer(survey, premises, word, 2, out));
	return path->count == 2 && list_named(premises, word[0]) != SCOPE_COUNT &&
	       presence(premises, list_named(premises, word[0]), word[1], out);
}

bool change_target(const struct survey *survey, const char *where, struct target *out)
{
	struct path path;
	struct item *item;

	if (!path_split(where, &path))
		return false;
	item = survey_find(survey, path.word[0].text, path.word[0].length);
	if (item == NULL)
		return find_in_premises(survey, &path, out);
	return find_below(survey, item, path.word + 1, path.count - 1, out);
}

/* -- the path of a thing ---------------------------------------------------------------- */

static const char *presence_path(const struct item *item, struct arena *arena)
{
	const struct item *parent = item->parent;
	const char *list = survey_list_key(item->scope);

	if (parent == NULL)
		return "premises";
	if (parent->scope == SCOPE_PREMISES)
		return arena_print(arena, "%s%s/%s",
		                   item->scope == SCOPE_PROTECTION ? "supply/" : "", list,
		                   item->ref);
	if (parent->scope == SCOPE_INLET)
		return arena_print(arena, "%s/inlets/%s/%s/%s", parent->parent->ref, parent->ref,
		                   list, item->ref);
	return arena_print(arena, "%s/%s/%s", parent->ref, list, item->ref);
}

/* What stands before the keys of an item's answers. Inlets have no ref; what is in the list of a
 * thing names that. */
static const char *answer_stem(const struct item *item, const struct question *question,
                               struct arena *arena)
{
	if (item->scope == SCOPE_PREMISES)
		return question->at[0] == '\0' ? "premises/" : "";
	if (item->scope == SCOPE_INLET || item->scope == SCOPE_TEST ||
	    item->scope == SCOPE_ACTION) {
		const char *path = presence_path(item, arena);

		return path == NULL ? NULL : arena_print(arena, "%s/", path);
	}
	return arena_print(arena, "%s/", item->ref);
}

const char *survey_where(const struct survey *survey, const struct item *item,
                         question_index question, struct arena *arena)
{
	const struct question *asked;
	const char *stem;

	if (question == QUESTION_NONE)
		return presence_path(item, arena);
	asked = &survey->book->question[question];
	stem = answer_stem(item, asked, arena);
	if (stem == NULL)
		return NULL;
	return arena_print(arena, "%s%s%s%s", stem, asked->at, asked->at[0] == '\0' ? "" : "/",
	                   asked->id);
}

/* -- carrying out ----------------------------------------------------------------------- */

const char *inlet_known(const struct item *inlet)
{
	return inlet->cannot_tell ? "cannot_tell" : inlet->nothing_said ? NULL : "nothing";
}

static bool apply_answer(struct survey *survey, const struct target *target, const char *after,
                         struct err *err)
{
	struct answer answer;

	if (after == NULL) {
		item_forget(survey, target->item, target->question);
		return true;
	}
	if (!answer_read(survey->book, target->question, after, strlen(after), &survey->arena,
	                 &answer, err))
		return false;
	if (survey_put(survey, target->item, &answer))
		return true;
	err_set(err, ERR_MEMORY, "there is no memory for an answer");
	return false;
}

static bool apply_known(const struct target *target, const char *after, struct err *err)
{
	struct item *inlet = target->item;

	if (item_children(inlet, SCOPE_PROTECTION) > 0) {
		err_set(err, ERR_USAGE,
		        "something is fitted on inlet %s of %s: take that out first", inlet->ref,
		        inlet->parent->ref);
		return false;
	}
	if (after != NULL && strcmp(after, "cannot_tell") != 0 && strcmp(after, "nothing") != 0) {
		err_set(err, ERR_USAGE,
		        "`%.60s` says nothing of what is fitted: expected nothing "
		        "or cannot_tell",
		        after);
		return false;
	}
	inlet->nothing_said = after == NULL;
	inlet->cannot_tell = after != NULL && strcmp(after, "cannot_tell") == 0;
	return true;
}

/* The child that one of a scope is put after when it is to be the first of that scope: what stands
 * before the first now. */
static const struct item *before_first(const struct item *parent, enum scope scope)
{
	size_t i = 0;

	while (i < parent->child_count && parent->child[i]->scope != scope)
		i++;
	return i == 0 ? NULL : parent->child[i - 1];
}

/* Found by its ref alone, where it has one to itself: a house may have thousands of rooms. */
struct item *target_child(const struct survey *survey, const struct target *target, const char *ref,
                          size_t length)
{
	struct item *item;

	if (target->scope == SCOPE_INLET)
		return item_named(target->item, target->scope, ref, length);
	item = survey_find(survey, ref, length);
	return item != NULL && item->parent == target->item && item->scope == target->scope ? item
	                                                                                    : NULL;
}

static bool find_after(const struct survey *survey, const struct target *target, const char *after,
                       const struct item *moved, const struct item **out, struct err *err)
{
	if (after[0] == '\0') {
		*out = before_first(target->item, target->scope);
		return true;
	}
	*out = target_child(survey, target, after, strlen(after));
	if (*out != NULL && *out != moved)
		return true;
	err_set(err, ERR_USAGE, "there is no `%.60s` there to stand after", after);
	return false;
}

static bool add_item(struct survey *survey, const struct target *target, const char *after,
                     struct err *err)
{
	const char *ref = arena_copy(&survey->arena, target->ref, target->ref_length);
	const char *fault = ref_shape_fault(target->ref, target->ref_length);
	const struct item *stands_after;

	if (fault == NULL && target->scope != SCOPE_INLET &&
	    survey_find(survey, target->ref, target->ref_length) != NULL)
		fault = "it names something else in the survey";
	if (fault != NULL) {
		err_set(err, ERR_USAGE, "`%.*s` can't be a new ref: %s",
		        (int)(target->ref_length < 60 ? target->ref_length : 60), target->ref,
		        fault);
		return false;
	}
	if (!find_after(survey, target, after, NULL, &stands_after, err))
		return false;
	if (ref != NULL && survey_add(survey, target->item, target->scope, ref, stands_after))
		return true;
	err_set(err, ERR_MEMORY, "there is no memory for one more item");
	return false;
}

static bool apply_presence(struct survey *survey, const struct target *target, const char *after,
                           struct err *err)
{
	struct item *item = target_child(survey, target, target->ref, target->ref_length);
	const struct item *stands_after;

	if (item == NULL && after == NULL) {
		err_set(err, ERR_USAGE, "there is no `%.*s` there",
		        (int)(target->ref_length < 60 ? target->ref_length : 60), target->ref);
		return false;
	}
	if (item == NULL)
		return add_item(survey, target, after, err);
	if (after == NULL) {
		survey_take_out(survey, item);
		return true;
	}
	if (!find_after(survey, target, after, item, &stands_after, err))
		return false;
	if (stands_after != item)
		item_move(item, stands_after);
	return true;
}

bool survey_apply(struct survey *survey, const struct change *change, struct err *err)
{
	struct target target;

	if (!change_target(survey, change->where, &target)) {
		err_set(err, ERR_USAGE, "`%.200s` names nothing in this survey", change->where);
		return false;
	}
	switch (target.form) {
	case TARGET_ANSWER:
		return apply_answer(survey, &target, change->after, err);
	case TARGET_KNOWN:
		return apply_known(&target, change->after, err);
	case TARGET_PRESENCE:
		break;
	}
	return apply_presence(survey, &target, change->after, err);
}

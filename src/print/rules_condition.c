/*
 * A condition in words. Built by appending in an arena: conditions are short, and this is for
 * people.
 */
#include "tundish/base/number.h"
#include "tundish/print/rules.h"

static const char *question_words(const struct question *question, struct arena *scratch)
{
	switch (question->scope) {
	case SCOPE_PREMISES:
	case SCOPE_PART:
	case SCOPE_BRANCH:
	case SCOPE_ROOM:
	case SCOPE_INLET:
	case SCOPE_TEST:
		return arena_print(scratch, "%s.%s", scope_name(question->scope), question->id);
	case SCOPE_POINT:
	case SCOPE_PROTECTION:
	case SCOPE_ACTION:
	case SCOPE_OUTCOME:
	case SCOPE_COUNT:
		break;
	}
	return question->id;
}

static const char *bound_words(const struct question *question, const struct condition *test,
                               const char *is, struct arena *scratch)
{
	bool least = test->threshold == THRESHOLD_AT_LEAST;
	char text[32];

	if (question->form == FORM_DATE) {
		date_format((day)test->bound, text);
		return arena_print(scratch, "%s%s %s", is, least ? "on or after" : "before", text);
	}
	number_format(test->bound, text);
	return arena_print(scratch, "%s%s %s", is, least ? "at least" : "below", text);
}

static const char *cell_words(const struct question *question, unsigned cell)
{
	if (question->form == FORM_YES_NO || question->form == FORM_MEASURED)
		return cell == CELL_YES ? "yes" : "no";
	return cell < question->option_count ? question->option[cell].id : "?";
}

static const char *options_words(const struct question *question, cells holds, const char *is,
                                 struct arena *scratch)
{
	const char *text = is;
	bool any = false;

	for (unsigned i = 0; i < question->cell_count; i++) {
		if (!(holds >> i & 1))
			continue;
		text = arena_print(scratch, "%s%s%s", text ? text : "", any ? " or " : "",
		                   cell_words(question, i));
		any = true;
	}
	return any ? text : arena_print(scratch, "%snothing that can be", is);
}

static const char *test_words(const struct rulebook *book, const struct condition *test, bool holds,
                              struct arena *scratch)
{
	const char *is = holds ? " is " : " is not ";

	if (test->question >= book->question_count)
		return "?";
	const struct question *question = &book->question[test->question];
	const char *what = test->threshold == THRESHOLD_NONE
	                           ? options_words(question, test->holds, is, scratch)
	                           : bound_words(question, test, is, scratch);
	return arena_print(scratch, "%s%s", question_words(question, scratch), what ? what : "");
}

static const char *words(const struct rulebook *book, const struct condition *condition,
                         struct arena *scratch);

/* Children joined by a word; in brackets where there are several, so that no reader has to know
 * what binds tighter. */
static const char *joined(const struct rulebook *book, const struct condition *parent,
                          const char *by, const char *none, struct arena *scratch)
{
	const char *text = NULL;
	size_t count = 0;

	for (const struct condition *child = parent->child; child; child = child->next) {
		const char *one = words(book, child, scratch);
		text = arena_print(scratch, "%s%s%s", text ? text : "", count ? by : "",
		                   one ? one : "");
		count++;
	}
	if (count == 0)
		return none;
	return count == 1 ? text : arena_print(scratch, "(%s)", text ? text : "");
}

static const char *words(const struct rulebook *book, const struct condition *condition,
                         struct arena *scratch)
{
	const char *text = NULL;

	switch (condition->form) {
	case CONDITION_TEST:
		return test_words(book, condition, true, scratch);
	case CONDITION_ALL:
		return joined(book, condition, " and ", "always", scratch);
	case CONDITION_ANY:
		return joined(book, condition, " or ", "never", scratch);
	case CONDITION_NOT:
		if (condition->child && condition->child->form == CONDITION_TEST)
			return test_words(book, condition->child, false, scratch);
		text = condition->child ? words(book, condition->child, scratch) : NULL;
		return arena_print(scratch, "not %s", text ? text : "always");
	}
	return "";
}

const char *rules_condition(const struct rulebook *book, const struct condition *condition,
                            struct arena *scratch)
{
	const char *text = condition ? words(book, condition, scratch) : "always";

	return text ? text : "";
}

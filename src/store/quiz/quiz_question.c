/* The trainer's own questions: each has one right answer, and a reason that says more than the answer does. */
#include "quiz_inside.h"

#include <string.h>

/* -- choices --------------------------------------------------------------------------------- */

/* A trainer says which one is right; of the others only what is not simply wrong. */
static enum grade read_grade(struct quiz_reader *reader, const struct node *node)
{
	static const enum grade grades[] = {GRADE_DANGEROUS, GRADE_WRONG, GRADE_CAUTIOUS};
	const struct node *said = node_get(node, "grade");
	const char *names[3];
	bool right = node_yes(node, "right", false, reader->faults);
	int index;

	if (right && said)
		node_fault(said, reader->faults, "what is right has no other grade");
	if (right || !said)
		return right ? GRADE_RIGHT : GRADE_WRONG;
	for (size_t i = 0; i < 3; i++)
		names[i] = grade_name(grades[i]);
	index = read_one_of(reader, said, "grade of a choice that is not right", names, 3);
	return index < 0 ? GRADE_WRONG : grades[index];
}

static void twice(struct quiz_reader *reader, const struct node *node, const struct task *task,
                  const struct task_choice *choice)
{
	for (size_t i = 0; i < task->choice_count; i++) {
		const struct task_choice *other = &task->choice[i];

		if (strcmp(other->id, choice->id) == 0)
			node_fault(node_get(node, "id"), reader->faults,
			           "the choice `%.60s` is there twice", choice->id);
		else if (strcmp(other->text, choice->text) == 0)
			node_fault(node_get(node, "text"), reader->faults,
			           "two choices of `%.60s` say the same", task->id);
	}
}

static void read_choice(struct quiz_reader *reader, const struct node *node, struct task *task)
{
	static const char *const known[] = {"id", "text", "right", "grade", "last", NULL};
	struct task_choice choice = {0};

	if (!node_is_map(node, "a choice", reader->faults))
		return;
	node_known_keys(node, "a choice", known, reader->faults);
	choice.id = read_name(reader, node, "a choice", "id");
	choice.text = node_text(node, "text", reader->faults);
	if (!choice.text && !node_get(node, "text"))
		node_fault(node, reader->faults, "a choice needs `text`");
	choice.grade = read_grade(reader, node);
	choice.last = node_yes(node, "last", false, reader->faults);
	if (!choice.id || !choice.text)
		return;
	twice(reader, node, task, &choice);
	task->choice[task->choice_count++] = choice;
}

static void read_choices(struct quiz_reader *reader, const struct node *node, struct task *task)
{
	const struct node *first = node_list(node, "choices", reader->faults);
	size_t count = node_count(first), right = 0;

	if (count < 2 || count > QUIZ_CHOICES_MOST) {
		node_fault(count ? node_get(node, "choices") : node, reader->faults,
		           "the question `%.60s` has %zu choices: 2 to %d can be", task->id, count,
		           QUIZ_CHOICES_MOST);
		return;
	}
	task->choice = arena_take(&reader->out->arena, count * sizeof(*task->choice));
	for (; first && task->choice; first = first->next)
		read_choice(reader, first, task);
	for (size_t i = 0; i < task->choice_count; i++)
		right += task->choice[i].grade == GRADE_RIGHT;
	/* What could not be read may have been the right one: that is said already. */
	if (right == 0 && task->choice_count == count)
		node_fault(node_get(node, "choices"), reader->faults,
		           "the question `%.60s` has no right answer: one choice says `right: yes`",
		           task->id);
	else if (right > 1)
		node_fault(node_get(node, "choices"), reader->faults,
		           "the question `%.60s` has %zu right answers: one choice alone says "
		           "`right: yes`",
		           task->id, right);
}

/* -- a number -------------------------------------------------------------------------------- */

static void read_unit(struct quiz_reader *reader, const struct node *node, struct task *task)
{
	/* those of the rulebook's questions */
	static const char *const units[] = {"pa", "kpa",   "mbar", "bar", "mm",   "m",
	                                    "l",  "l_min", "l_s",  "c",   "years"};
	const struct node *unit = node_get(node, "unit");
	int index = unit ? read_one_of(reader, unit, "unit", units, sizeof(units) / sizeof(*units))
	                 : -1;

	task->unit = index < 0 ? NULL : units[index];
}

static void read_number(struct quiz_reader *reader, const struct node *node, struct task *task)
{
	static const char *const known[] = {"unit", "right", "least", "most", NULL};
	bool right, least, most;

	if (!node_is_map(node, "`number`", reader->faults))
		return;
	node_known_keys(node, "`number`", known, reader->faults);
	read_unit(reader, node, task);
	right = read_decimal(reader, node, "right", &task->right);
	least = read_decimal(reader, node, "least", &task->least);
	most = read_decimal(reader, node, "most", &task->most);
	if (!right || !least || !most)
		return;
	if (task->least >= task->most)
		node_fault(node_get(node, "most"), reader->faults, "`most` is more than `least`");
	else if (task->right < task->least || task->right > task->most)
		node_fault(node_get(node, "right"), reader->faults,
		           "`right` is not between `least` and `most`");
}

/* Choices, or a number to type. */
static void read_answers(struct quiz_reader *reader, const struct node *node, struct task *task)
{
	const struct node *number = node_get(node, "number");

	if (number && node_get(node, "choices"))
		node_fault(number, reader->faults,
		           "the question `%.60s` has `choices` or a `number`, not both", task->id);
	else if (number)
		read_number(reader, number, task);
	else
		read_choices(reader, node, task);
}

/* -- the reason ------------------------------------------------------------------------------ */

static bool is_letter_or_digit(unsigned char byte)
{
	return byte >= 0x80 || (byte >= '0' && byte <= '9') || (byte >= 'a' && byte <= 'z') ||
	       (byte >= 'A' && byte <= 'Z');
}

static int next_letter(const char **text)
{
	while (**text && !is_letter_or_digit((unsigned char)**text))
		++*text;
	if (!**text)
		return 0;
	unsigned char byte = (unsigned char)*(*text)++;
	return byte >= 'A' && byte <= 'Z' ? byte + 'a' - 'A' : byte;
}

/* But for case, blanks and punctuation. */
static bool says_the_same(const char *a, const char *b)
{
	int of_a, of_b;

	do {
		of_a = next_letter(&a);
		of_b = next_letter(&b);
	} while (of_a && of_a == of_b);
	return of_a == of_b;
}

/* Where a reason comes from may be left out: then it is the trainer's own practice. A source that nobody calls published
 * is what the trainer remembers of it. */
static void read_source(struct quiz_reader *reader, const struct node *node, struct reason *reason)
{
	const struct node *standing = node_get(node, "standing");
	const char *names[STANDING_COUNT], *source = node_text(node, "source", reader->faults);
	bool none = !source || strcmp(source, "no source") == 0;
	int index = -1;

	for (enum standing s = 0; s < STANDING_COUNT; s++)
		names[s] = standing_name(s);
	reason->source = none ? NULL : source;
	reason->standing = none ? STANDING_COMMON_PRACTICE : STANDING_MEMORY;
	if (standing)
		index = read_one_of(reader, standing, "standing", names, STANDING_COUNT);
	if (index < 0)
		return;
	if (index == STANDING_COMMON_PRACTICE && !none)
		node_fault(node_get(node, "source"), reader->faults,
		           "common practice has `no source`: with one it is published or memory");
	else if (index != STANDING_COMMON_PRACTICE && none)
		node_fault(standing, reader->faults,
		           "what is %s has a `source`: document, edition, clause", names[index]);
	reason->standing = (enum standing)index;
}

static void read_reason(struct quiz_reader *reader, const struct node *node, struct task *task)
{
	struct reason *reason = arena_take(&reader->out->arena, sizeof(*reason));
	const struct task_choice *right = task_right(task);
	const struct node *because = node_get(node, "because"), *number = node_get(node, "number");
	const char *answer = right ? right->text : NULL;

	if (!reason)
		return;
	if (number && number->kind == EVENT_MAP && node_get(number, "right"))
		answer = node_get(number, "right")->text;
	read_source(reader, node, reason);
	reason->says = node_text(node, "because", reader->faults);
	if (!because)
		node_fault(
		        node, reader->faults,
		        "the question `%.60s` has no reason: `because` says why the right answer "
		        "is right",
		        task->id);
	if (!reason->says)
		return;
	if (answer && says_the_same(reason->says, answer))
		node_fault(because, reader->faults,
		           "the reason of `%.60s` says no more than its right answer", task->id);
	task->reason = reason;
	task->reason_count = 1;
}

/* -- questions ------------------------------------------------------------------------------- */

static void read_shown(struct quiz_reader *reader, const struct node *node, struct task *task)
{
	const struct node *first = node_list(node, "shows", reader->faults);
	size_t count = node_count(first);

	task->shown = arena_take(&reader->out->arena, count * sizeof(*task->shown));
	for (; first && task->shown; first = first->next) {
		if (first->kind == EVENT_SCALAR)
			task->shown[task->shown_count++] = first->text;
		else
			node_fault(first, reader->faults, "`shows` is a list of lines");
	}
}

static bool is_taken(const struct quiz_plan *plan, const struct task *task, const char *id)
{
	for (const struct task *other = plan->own; other && other < task; other++)
		if (other->id && strcmp(other->id, id) == 0)
			return true;
	return false;
}

static void read_task(struct quiz_reader *reader, const struct node *node, struct task *task)
{
	static const char *const known[] = {"id",      "ask",      "shows",    "point",
	                                    "choices", "number",   "in_order", "because",
	                                    "source",  "standing", NULL};

	task->family = FAMILY_OWN;
	task->id = task->asks = "?";
	if (!node_is_map(node, "a question", reader->faults))
		return;
	node_known_keys(node, "a question", known, reader->faults);
	const char *id = read_name(reader, node, "a question", "id");
	if (id && is_taken(&reader->out->plan, task, id))
		node_fault(node_get(node, "id"), reader->faults,
		           "the question `%.60s` is there twice", id);
	if (id)
		task->id = id;
	const char *asks = node_text(node, "ask", reader->faults);
	if (asks)
		task->asks = asks;
	else if (!node_get(node, "ask"))
		node_fault(node, reader->faults, "the question `%.60s` has no `ask`: its words",
		           task->id);
	read_shown(reader, node, task);
	task->in_order = node_yes(node, "in_order", false, reader->faults);
	read_answers(reader, node, task);
	read_reason(reader, node, task);
}

/* @return the ref, NULL: none was said. */
static const char *read_point(struct quiz_reader *reader, const struct node *node,
                              struct span *span)
{
	const struct node *point = node->kind == EVENT_MAP ? node_get(node, "point") : NULL;

	if (!point)
		return NULL;
	*span = point->span;
	read_needs_house(reader, point, "a `point` is");
	return node_text(node, "point", reader->faults);
}

void read_own_tasks(struct quiz_reader *reader, const struct node *root)
{
	const struct node *first = node_list(root, "questions", reader->faults);
	size_t count = node_count(first);
	struct arena *arena = &reader->out->arena;
	struct task *task;
	const char **point;
	struct span *span;

	if (count > TASKS_MOST) {
		node_fault(node_get(root, "questions"), reader->faults,
		           "%zu questions: a quiz has %d at most", count, TASKS_MOST);
		return;
	}
	task = arena_take(arena, count * sizeof(*task));
	point = arena_take(arena, count * sizeof(*point));
	span = arena_take(arena, count * sizeof(*span));
	reader->out->plan.own = task;
	reader->out->plan.own_point = point;
	reader->out->own_point_span = span;
	for (size_t i = 0; first && task && point && span; first = first->next, i++) {
		read_task(reader, first, &task[i]);
		point[i] = read_point(reader, first, &span[i]);
		reader->out->plan.own_count++;
	}
}

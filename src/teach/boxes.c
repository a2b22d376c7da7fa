#include "tundish/teach/boxes.h"

#include <stdlib.h>
#include <string.h>

/* A row, or a type's table. */
struct lesson {
	const char *id;
	size_t topic;
	struct box box;
};

/* An id, today's or an earlier one, of a lesson. */
struct name {
	const char *id;
	size_t lesson;
};

struct boxes {
	const struct rulebook *book;
	struct arena arena;
	struct lesson *lesson; /* in the order of the book */
	size_t lesson_count, lesson_room;
	struct name *name; /* by id */
	size_t name_count, name_room;
};

static const int box_days[BOX_MOST + 1] = {0, 1, 2, 4, 8, 16};

/* -- making ----------------------------------------------------------------------------- */

static void add_name(struct boxes *boxes, const char *id, size_t lesson)
{
	struct name *grown = arena_grow(&boxes->arena, boxes->name, boxes->name_count,
	                                &boxes->name_room, sizeof *grown);

	if (!grown)
		return;
	boxes->name = grown;
	grown[boxes->name_count++] = (struct name){id, lesson};
}

static void add_lesson(struct boxes *boxes, size_t topic, const char *id, const char **was,
                       size_t was_count)
{
	struct lesson *grown = arena_grow(&boxes->arena, boxes->lesson, boxes->lesson_count,
	                                  &boxes->lesson_room, sizeof *grown);

	if (!grown)
		return;
	boxes->lesson = grown;
	grown[boxes->lesson_count] = (struct lesson){.id = id, .topic = topic};
	add_name(boxes, id, boxes->lesson_count);
	for (size_t i = 0; i < was_count; i++)
		add_name(boxes, was[i], boxes->lesson_count);
	boxes->lesson_count++;
}

/** What is settled from one row of the text (`otherwise: ask`) is several with one id: one to learn. */
static void add_row(struct boxes *boxes, size_t topic, const struct row *row)
{
	for (size_t i = boxes->lesson_count; i-- > 0 && boxes->lesson[i].topic == topic;)
		if (strcmp(boxes->lesson[i].id, row->id) == 0)
			return;
	add_lesson(boxes, topic, row->id, row->was, row->was_count);
}

/* The topic of the urgency table stands after the kinds and types. */
static size_t urgency_topic(const struct rulebook *book)
{
	return book->kind_count + book->type_count;
}

static void add_all(struct boxes *boxes)
{
	const struct rulebook *book = boxes->book;

	for (size_t k = 0; k < book->kind_count; k++)
		for (size_t r = 0; r < book->kind[k].row_count; r++)
			add_row(boxes, k, &book->kind[k].row[r]);
	for (size_t t = 0; t < book->type_count; t++) {
		const struct type *type = &book->type[t];
		size_t topic = book->kind_count + t;

		add_lesson(boxes, topic, type->id, type->was, type->was_count);
		for (size_t r = 0; r < type->row_count; r++)
			add_row(boxes, topic, &type->row[r]);
		for (size_t s = 0; s < type->series_count; s++)
			add_row(boxes, topic, &type->series[s].row);
	}
	for (size_t u = 0; u < book->urgency_count; u++)
		add_row(boxes, urgency_topic(book), &book->urgency[u].row);
}

/* Of the same id the first in the book. */
static int by_id(const void *a, const void *b)
{
	const struct name *x = a, *y = b;
	int order = strcmp(x->id, y->id);

	if (order != 0)
		return order;
	return x->lesson < y->lesson ? -1 : x->lesson > y->lesson;
}

struct boxes *boxes_create(const struct rulebook *book)
{
	struct boxes *boxes = calloc(1, sizeof *boxes);

	if (!boxes)
		return NULL;
	boxes->book = book;
	add_all(boxes);
	if (boxes->arena.failed) {
		boxes_destroy(boxes);
		return NULL;
	}
	if (boxes->name_count > 0)
		qsort(boxes->name, boxes->name_count, sizeof *boxes->name, by_id);
	return boxes;
}

void boxes_destroy(struct boxes *boxes)
{
	if (!boxes)
		return;
	arena_finish(&boxes->arena);
	free(boxes);
}

static struct lesson *lesson_of(const struct boxes *boxes, const char *id)
{
	size_t low = 0, high = boxes->name_count;

	while (low < high) {
		size_t middle = low + (high - low) / 2;

		if (strcmp(boxes->name[middle].id, id) < 0)
			low = middle + 1;
		else
			high = middle;
	}
	if (low == boxes->name_count || strcmp(boxes->name[low].id, id) != 0)
		return NULL;
	return &boxes->lesson[boxes->name[low].lesson];
}

/* -- answers ---------------------------------------------------------------------------- */

static day due_on(const struct box *box)
{
	return box->asked + box_days[box->box];
}

bool box_due(const struct box *box, day on)
{
	return box->box != BOX_NONE && on >= due_on(box);
}

static void take(struct box *box, day on, enum grade grade)
{
	bool good = grade == GRADE_RIGHT || grade == GRADE_CAUTIOUS;

	box->missed = !good;
	if (good && box->box != BOX_NONE && !box_due(box, on))
		return;
	box->asked = on;
	if (!good || box->box == BOX_NONE)
		box->box = 1;
	else if (grade == GRADE_RIGHT && box->box < BOX_MOST)
		box->box++;
}

void boxes_take(struct boxes *boxes, const char *row_id, day on, enum grade grade)
{
	struct lesson *lesson = lesson_of(boxes, row_id);

	if (lesson && grade != GRADE_NONE)
		take(&lesson->box, on, grade);
}

struct box boxes_row(const struct boxes *boxes, const char *row_id)
{
	const struct lesson *lesson = lesson_of(boxes, row_id);

	return lesson ? lesson->box : (struct box){0};
}

/* -- what is due ------------------------------------------------------------------------ */

/* Whether the first is to be asked before the second: of equals, the first in the book. */
static bool sooner(const struct lesson *a, const struct lesson *b)
{
	if (a->box.missed != b->box.missed)
		return a->box.missed;
	if (due_on(&a->box) != due_on(&b->box))
		return due_on(&a->box) < due_on(&b->box);
	return a < b;
}

size_t boxes_due(const struct boxes *boxes, day on, const char **out, size_t room)
{
	const struct lesson *last = NULL;
	size_t due = 0, listed = 0;

	for (size_t i = 0; i < boxes->lesson_count; i++)
		due += box_due(&boxes->lesson[i].box, on);
	while (listed < room) { /* the soonest after the last one listed */
		const struct lesson *next = NULL;

		for (size_t i = 0; i < boxes->lesson_count; i++) {
			const struct lesson *one = &boxes->lesson[i];

			if (box_due(&one->box, on) && (!last || sooner(last, one)) &&
			    (!next || sooner(one, next)))
				next = one;
		}
		if (!next)
			break;
		out[listed++] = next->id;
		last = next;
	}
	return due;
}

/* -- by topic --------------------------------------------------------------------------- */

static void count_lesson(struct progress *progress, const struct box *box, day on)
{
	progress->rows++;
	if (box->box == BOX_NONE)
		progress->unseen++;
	else if (box->box >= BOX_KNOWN)
		progress->known++;
	else
		progress->shaky++;
	progress->due += box_due(box, on);
}

bool boxes_progress(const struct boxes *boxes, day on, struct arena *arena, struct progress **out,
                    size_t *count)
{
	const struct rulebook *book = boxes->book;
	struct progress *list;

	*count = urgency_topic(book) + (book->urgency_count > 0);
	*out = list = arena_take(arena, (*count + 1) * sizeof *list);
	if (!list)
		return false;
	for (size_t k = 0; k < book->kind_count; k++)
		list[k] = (struct progress){
		        .topic = book->kind[k].id, .name = book->kind[k].name, .is = "kind"};
	for (size_t t = 0; t < book->type_count; t++)
		list[book->kind_count + t] = (struct progress){
		        .topic = book->type[t].id, .name = book->type[t].name, .is = "type"};
	if (book->urgency_count > 0)
		list[urgency_topic(book)] =
		        (struct progress){.topic = "urgency", .name = "How soon", .is = "urgency"};
	for (size_t i = 0; i < boxes->lesson_count; i++)
		count_lesson(&list[boxes->lesson[i].topic], &boxes->lesson[i].box, on);
	return true;
}

#include "tundish/print/progress.h"

#include "tundish/print/csv.h"
#include "tundish/print/ndjson.h"
#include "tundish/teach/quiz.h"

#include <stdio.h>
#include <string.h>

enum { TOPIC_COLUMNS = 40, FIGURE_COLUMNS = 8, AT_COLUMNS = 18, MODE_COLUMNS = 10 };

/* -- by topic ---------------------------------------------------------------------------------- */

static bool was_asked(const struct progress *progress)
{
	return progress->unseen < progress->rows;
}

static void figure(struct page *page, size_t value)
{
	char text[24];

	snprintf(text, sizeof(text), "%*zu", FIGURE_COLUMNS, value);
	sink_text(page->sink, text);
}

static void figures(struct page *page, const struct progress *progress)
{
	page_cell(page, progress->name, TOPIC_COLUMNS);
	figure(page, progress->rows);
	figure(page, progress->known);
	figure(page, progress->shaky);
	figure(page, progress->unseen);
	figure(page, progress->due);
	sink_text(page->sink, "\n");
	arena_reset(page->scratch);
}

/* Their names would bury what was asked: other programs get them. */
static void say_not_asked(struct page *page, const struct progress *progress, size_t count)
{
	size_t unseen = 0;

	for (size_t i = 0; i < count; i++)
		unseen += !was_asked(&progress[i]) && progress[i].rows > 0;
	if (unseen > 0)
		sink_print(page->sink, "Topics not asked yet: %zu (--format csv names them).\n",
		           unseen);
}

/* Of the boxes (docs/quiz.md): how long each of them waits is what they mean. */
static const char meaning[] =
        "known: asked again after 8 days or more; shaky: after 4 or fewer; due: now.\n";

void progress_table(struct page *page, const struct progress *progress, size_t count)
{
	struct progress sum = {.name = "all topics"};
	size_t asked = 0;

	for (size_t i = 0; i < count; i++) {
		asked += was_asked(&progress[i]);
		sum.rows += progress[i].rows;
		sum.known += progress[i].known;
		sum.shaky += progress[i].shaky;
		sum.unseen += progress[i].unseen;
		sum.due += progress[i].due;
	}
	page_cell(page, "rows of the rulebook, by topic", TOPIC_COLUMNS);
	sink_text(page->sink, "    rows   known   shaky  unseen     due\n");
	for (size_t i = 0; i < count; i++)
		if (was_asked(&progress[i]))
			figures(page, &progress[i]);
	figures(page, &sum);
	sink_text(page->sink, meaning);
	if (asked > 0)
		say_not_asked(page, progress, count);
	else
		sink_text(page->sink, "\nNothing was asked yet: `tundish quiz` begins.\n");
}

void progress_csv(struct sink *sink, const struct progress *progress, size_t count)
{
	sink_text(sink, "topic,name,is,rows,known,shaky,unseen,due\r\n");
	for (size_t i = 0; i < count; i++) {
		const struct progress *p = &progress[i];

		csv_text(sink, p->topic);
		sink_text(sink, ",");
		csv_text(sink, p->name);
		sink_print(sink, ",%s,%zu,%zu,%zu,%zu,%zu\r\n", p->is, p->rows,
		           p->known, p->shaky, p->unseen, p->due);
	}
}

void progress_json(struct sink *sink, const struct progress *progress, size_t count)
{
	for (size_t i = 0; i < count; i++) {
		const struct progress *p = &progress[i];

		sink_text(sink, "{\"topic\": ");
		ndjson_string(sink, p->topic);
		sink_text(sink, ", \"name\": ");
		ndjson_string(sink, p->name);
		sink_print(sink,
		           ", \"is\": \"%s\", \"rows\": %zu, \"known\": %zu, \"shaky\": %zu, "
		           "\"unseen\": %zu, \"due\": %zu}\n",
		           p->is, p->rows, p->known, p->shaky, p->unseen,
		           p->due);
	}
}

/* -- sittings ---------------------------------------------------------------------------------- */

static struct sitting *sitting_of(struct sitting *sitting, size_t count, const char *attempt)
{
	/* Its answers nearly always stand together. */
	while (count-- > 0)
		if (strcmp(sitting[count].first->attempt, attempt) == 0)
			return &sitting[count];
	return NULL;
}

bool sittings_of(const struct review *review, size_t count, struct arena *arena,
                 struct sitting **out, size_t *out_count)
{
	size_t room = 0, found = 0;
	struct sitting *sitting = NULL;

	for (size_t i = 0; i < count; i++) {
		struct sitting *of = sitting_of(sitting, found, review[i].attempt);

		if (!of) {
			of = arena_grow(arena, sitting, found, &room, sizeof(*of));
			if (!of)
				return false;
			sitting = of;
			of = &sitting[found++];
			*of = (struct sitting){.first = &review[i]};
		}
		of->answered++;
		of->halves += grade_halves(review[i].grade);
		of->grade[review[i].grade]++;
		of->ms += review[i].ms;
	}
	*out = sitting;
	*out_count = found;
	return true;
}

void score_words(size_t halves, size_t tasks, char out[SCORE_ROOM])
{
	snprintf(out, SCORE_ROOM, "%zu%s of %zu", halves / 2, halves % 2 ? ".5" : "", tasks);
}

const char *sitting_words(const struct sitting *sitting, struct arena *scratch)
{
	const struct review *first = sitting->first;
	char score[SCORE_ROOM], left[40] = "", mark[48] = "", dangerous[40] = "";

	score_words(sitting->halves, first->tasks, score);
	if (sitting->answered < first->tasks)
		snprintf(left, sizeof(left), "; %zu not answered",
		         first->tasks - sitting->answered);
	if (sitting->grade[GRADE_DANGEROUS])
		snprintf(dangerous, sizeof(dangerous), "; %zu dangerous",
		         sitting->grade[GRADE_DANGEROUS]);
	if (first->pass_percent)
		snprintf(mark, sizeof(mark), "; mark %u%%: %s", first->pass_percent,
		         mark_reached(sitting->halves, first->tasks, first->pass_percent)
		                 ? "reached"
		                 : "not reached");
	return arena_print(scratch, "%s%s%s%s", score, left, dangerous, mark);
}

static const char *quiz_words(const struct review *first)
{
	if (first->quiz)
		return first->quiz;
	return first->survey ? first->survey : "an invented house";
}

void sittings_table(struct page *page, const struct sitting *sitting, size_t count, size_t most)
{
	if (count > 0)
		sink_text(page->sink, count > most ? "The last attempts:\n" : "The attempts:\n");
	for (size_t i = 0; i < count && i < most; i++) {
		const struct sitting *s = &sitting[count - 1 - i];

		page_cell(page,
		          arena_print(page->scratch, "%.10s %.5s", s->first->at, s->first->at + 11),
		          AT_COLUMNS);
		page_cell(page, s->first->exam ? "exam" : "practice", MODE_COLUMNS);
		page_prose(page, NULL, 0, quiz_words(s->first));
		page_prose(page, "", AT_COLUMNS, sitting_words(s, page->scratch));
		arena_reset(page->scratch);
	}
	if (count > 0)
		sink_text(page->sink, "\n");
}

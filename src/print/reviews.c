#include "tundish/print/reviews.h"

#include "tundish/print/csv.h"
#include "tundish/print/ndjson.h"
#include "tundish/teach/quiz.h"

static const char header[] =
        "learner,attempt,at,quiz,survey,seed,level,with,rulebook,on,exam,pass_percent,tasks,"
        "item,family,topic,rows,given,correct,grade,ms,scheduler\r\n";

static const char scores_header[] =
        "learner,attempt,started,quiz,survey,seed,level,with,rulebook,on,mode,tasks,answered,right,"
        "cautious,wrong,dangerous,points,of,pass_percent,passed,ms\r\n";

void reviews_csv_header(struct sink *sink)
{
	sink_text(sink, header);
}

static void texts(struct sink *sink, const char *const *text, size_t count)
{
	for (size_t i = 0; i < count; i++) {
		csv_text(sink, text[i]);
		sink_text(sink, ",");
	}
}

/* One cell of all its rows. */
static void rows_cell(struct sink *sink, const struct review *review)
{
	struct sink joined;

	sink_to_memory(&joined);
	for (size_t i = 0; i < review->row_count; i++)
		sink_print(&joined, "%s%s", i ? " " : "", review->row[i]);
	csv_text(sink, joined.bytes);
	sink->failed |= joined.failed;
	sink_finish(&joined);
	sink_text(sink, ",");
}

/* Who, and about what: the same in all answers of an attempt but when. */
static void about_cells(struct sink *sink, const struct review *review)
{
	const char *const who[] = {review->learner, review->attempt, review->at, review->quiz,
	                           review->survey};

	texts(sink, who, sizeof(who) / sizeof(who[0]));
	sink_print(sink, "%llu,%u,", (unsigned long long)review->seed, review->level);
	texts(sink, (const char *const[]){review->with, review->rulebook, review->on}, 3);
}

void reviews_csv(struct sink *sink, const struct review *review)
{
	const char *const what[] = {review->item, review->family, review->topic};
	const char *const answer[] = {review->given, review->correct, grade_name(review->grade)};

	about_cells(sink, review);
	sink_print(sink, "%s,%u,%zu,", review->exam ? "yes" : "no", review->pass_percent,
	           review->tasks);
	texts(sink, what, sizeof(what) / sizeof(what[0]));
	rows_cell(sink, review);
	texts(sink, answer, sizeof(answer) / sizeof(answer[0]));
	sink_print(sink, "%u,", (unsigned)review->ms);
	csv_text(sink, review->scheduler);
	sink_text(sink, "\r\n");
}

static void key(struct sink *sink, const char *name, const char *text)
{
	sink_print(sink, "\"%s\": ", name);
	ndjson_string(sink, text);
	sink_text(sink, ", ");
}

static void about_keys(struct sink *sink, const struct review *review, const char *when)
{
	key(sink, "learner", review->learner);
	key(sink, "attempt", review->attempt);
	key(sink, when, review->at);
	key(sink, "quiz", review->quiz);
	key(sink, "survey", review->survey);
	/* A text: most readers of JSON round whole numbers past 2^53. */
	sink_print(sink, "\"seed\": \"%llu\", \"level\": %u, ", (unsigned long long)review->seed,
	           review->level);
	key(sink, "with", review->with);
	key(sink, "rulebook", review->rulebook);
	key(sink, "on", review->on);
}

void reviews_json(struct sink *sink, const struct review *review)
{
	sink_text(sink, "{");
	about_keys(sink, review, "at");
	sink_print(sink, "\"exam\": %s, \"pass_percent\": %u, \"tasks\": %zu, ",
	           review->exam ? "true" : "false", review->pass_percent, review->tasks);
	key(sink, "item", review->item);
	key(sink, "family", review->family);
	key(sink, "topic", review->topic);
	sink_text(sink, "\"rows\": [");
	for (size_t i = 0; i < review->row_count; i++) {
		sink_text(sink, i ? ", " : "");
		ndjson_string(sink, review->row[i]);
	}
	sink_text(sink, "], ");
	key(sink, "given", review->given);
	key(sink, "correct", review->correct);
	key(sink, "grade", grade_name(review->grade));
	sink_print(sink, "\"ms\": %u, \"scheduler\": ", (unsigned)review->ms);
	ndjson_string(sink, review->scheduler);
	sink_text(sink, "}\n");
}

/* -- a line an attempt ------------------------------------------------------------------------- */

/* Without a mark to pass there is neither. */
static const char *passed_word(const struct sitting *sitting, const char *yes, const char *no,
                               const char *neither)
{
	const struct review *first = sitting->first;

	if (first->pass_percent == 0)
		return neither;
	return mark_reached(sitting->halves, first->tasks, first->pass_percent) ? yes : no;
}

static const char *mode_word(const struct review *first)
{
	return first->exam ? "exam" : "practice";
}

static const char *half(const struct sitting *sitting)
{
	return sitting->halves % 2 ? ".5" : "";
}

void scores_csv_header(struct sink *sink)
{
	sink_text(sink, scores_header);
}

void scores_csv(struct sink *sink, const struct sitting *sitting)
{
	const struct review *first = sitting->first;

	about_cells(sink, first);
	sink_print(sink, "%s,%zu,%zu,%zu,%zu,%zu,%zu,", mode_word(first), first->tasks,
	           sitting->answered, sitting->grade[GRADE_RIGHT], sitting->grade[GRADE_CAUTIOUS],
	           sitting->grade[GRADE_WRONG], sitting->grade[GRADE_DANGEROUS]);
	sink_print(sink, "%zu%s,%zu,%u,%s,%llu\r\n", sitting->halves / 2, half(sitting),
	           first->tasks, first->pass_percent, passed_word(sitting, "yes", "no", ""),
	           (unsigned long long)sitting->ms);
}

void scores_json(struct sink *sink, const struct sitting *sitting)
{
	const struct review *first = sitting->first;

	sink_text(sink, "{");
	about_keys(sink, first, "started");
	sink_print(sink,
	           "\"mode\": \"%s\", \"tasks\": %zu, \"answered\": %zu, \"right\": %zu, "
	           "\"cautious\": %zu, \"wrong\": %zu, \"dangerous\": %zu, ",
	           mode_word(first), first->tasks, sitting->answered, sitting->grade[GRADE_RIGHT],
	           sitting->grade[GRADE_CAUTIOUS], sitting->grade[GRADE_WRONG],
	           sitting->grade[GRADE_DANGEROUS]);
	sink_print(sink,
	           "\"points\": %zu%s, \"of\": %zu, \"pass_percent\": %u, \"passed\": %s, "
	           "\"ms\": %llu}\n",
	           sitting->halves / 2, half(sitting), first->tasks, first->pass_percent,
	           passed_word(sitting, "true", "false", "null"), (unsigned long long)sitting->ms);
}

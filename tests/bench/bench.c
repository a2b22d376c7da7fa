/*
 * How much reading, judging and printing cost beside what cannot be had cheaper: the bare event
 * loop of libyaml over the same files, read on both sides, in one run. Printed as ratios, so that
 * machines can be compared.
 *
 *     bench RULEBOOK TUNDISH
 */
#include "corpus.h"

#include "tundish/house/verdict.h"
#include "tundish/print/ndjson.h"
#include "tundish/store/file.h"
#include "tundish/store/rulebook_read.h"
#include "tundish/store/survey_read.h"

#include <fcntl.h>
#include <spawn.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>
#include <yaml.h>

enum {
	SURVEYS = 2000,
	POINTS = 40,
	SEED = 7,
	ROUNDS = 5, /* the best counts: everything else is noise of the machine */
	STARTS = 40,
};

extern char **environ;

struct bench {
	struct rulebook book;
	struct judge *judge;
	struct survey survey;
	struct arena text;
	struct sink out;
	char folder[64];
	size_t points, undecided;
};

static void give_up(const char *what)
{
	fprintf(stderr, "bench: %s\n", what);
	exit(EXIT_FAILURE);
}

static double seconds(clockid_t clock)
{
	struct timespec now;

	clock_gettime(clock, &now);
	return (double)now.tv_sec + (double)now.tv_nsec / 1e9;
}

/* -- what is measured -------------------------------------------------------------------------- */

static void read_survey_file(struct bench *b, unsigned index, struct source *source)
{
	static char path[96];
	struct err err = {0};

	snprintf(path, sizeof(path), "%s/%u.yaml", b->folder, index);
	arena_reset(&b->text);
	if (!file_read(path, &b->text, source, NULL, &err))
		give_up(err.message);
}

static void bare_loop(const char *text, size_t length)
{
	yaml_parser_t parser;
	yaml_event_t event;
	bool ended = false;

	if (!yaml_parser_initialize(&parser))
		give_up("no memory");
	yaml_parser_set_input_string(&parser, (const unsigned char *)text, length);
	while (!ended) {
		if (!yaml_parser_parse(&parser, &event))
			give_up("the corpus is not YAML");
		ended = event.type == YAML_STREAM_END_EVENT;
		yaml_event_delete(&event);
	}
	yaml_parser_delete(&parser);
}

static void bare(struct bench *b, unsigned index)
{
	struct source source;

	read_survey_file(b, index, &source);
	bare_loop(source.text, source.length);
}

static void load(struct bench *b, unsigned index)
{
	static struct source source;
	struct faults faults;

	read_survey_file(b, index, &source);
	faults_init(&faults, &b->text);
	if (!survey_read(&b->survey, &b->book, &source, &faults))
		give_up(faults.count ? fault_text(&faults.item[0], &b->text) : "no memory");
}

static void judge_room(struct bench *b, const struct item *room, bool print)
{
	struct assessment assessment;
	struct assessed assessed = {b->survey.source->name, &b->survey, &assessment};

	for (size_t i = 0; i < room->child_count; i++) {
		struct err err = {0};
		if (room->child[i]->scope != SCOPE_POINT)
			continue;
		if (!judge_point(b->judge, room->child[i], &assessment, &err) &&
		    err.kind == ERR_MEMORY)
			give_up(err.message);
		b->points++;
		b->undecided += assessment.verdict == VERDICT_UNDECIDED;
		if (print)
			ndjson_point(&b->out, &assessed);
	}
}

static void judge_all(struct bench *b, unsigned index, bool print)
{
	const struct item *premises;

	load(b, index);
	if (!judge_survey(b->judge, &b->survey, NULL))
		give_up("no memory");
	premises = b->survey.premises;
	for (size_t i = 0; i < premises->child_count; i++) {
		if (premises->child[i]->scope == SCOPE_ROOM)
			judge_room(b, premises->child[i], print);
	}
}

static void assess(struct bench *b, unsigned index)
{
	judge_all(b, index, false);
}

static void assess_and_print(struct bench *b, unsigned index)
{
	judge_all(b, index, true);
}

static const struct pass {
	const char *title;
	double aim; /* times the bare loop; 0: none */
	void (*one)(struct bench *b, unsigned index);
} passes[] = {
        {"bare event loop",        0,    bare            },
        {"load",                   1.15, load            },
        {"load and assess",        1.3,  assess          },
        {"load, assess and print", 1.5,  assess_and_print},
};
enum { PASSES = sizeof(passes) / sizeof(passes[0]) };

/* Time of this process alone, so that a busy machine disturbs less. */
static double timed(struct bench *b, const struct pass *pass)
{
	double start = seconds(CLOCK_PROCESS_CPUTIME_ID);

	for (unsigned i = 0; i < SURVEYS; i++)
		pass->one(b, i);
	return seconds(CLOCK_PROCESS_CPUTIME_ID) - start;
}

static void measure(struct bench *b)
{
	double best[PASSES] = {0};

	for (int round = 0; round < ROUNDS; round++) {
		for (size_t p = 0; p < PASSES; p++) {
			double took = timed(b, &passes[p]);
			if (round == 0 || took < best[p])
				best[p] = took;
		}
	}
	for (size_t p = 0; p < PASSES; p++) {
		printf("  %-24s %6.0f ms  %5.2f", passes[p].title, best[p] * 1000,
		       best[p] / best[0]);
		if (passes[p].aim > 0)
			printf("  (aim %.2f: %s)", passes[p].aim,
			       best[p] / best[0] <= passes[p].aim ? "met" : "missed");
		printf("\n");
	}
}

/* -- the corpus -------------------------------------------------------------------------------- */

static size_t write_survey(struct bench *b, struct corpus *corpus, unsigned index)
{
	char path[96];
	struct err err = {0};
	struct sink sink;

	sink_to_memory(&sink);
	corpus_survey(corpus, index, &sink);
	snprintf(path, sizeof(path), "%s/%u.yaml", b->folder, index);
	FILE *file = fopen(path, "wb");
	if (!file || !sink_flush(&sink, &err) ||
	    fwrite(sink.bytes, 1, sink.count, file) != sink.count || fclose(file))
		give_up("the corpus could not be written");
	size_t bytes = sink.count;
	sink_finish(&sink);
	return bytes;
}

static void write_corpus(struct bench *b, unsigned unanswered_percent)
{
	struct corpus corpus = {&b->book, SEED, POINTS, unanswered_percent, 0, 0};
	size_t bytes = 0;

	for (unsigned i = 0; i < SURVEYS; i++)
		bytes += write_survey(b, &corpus, i);
	printf("%d surveys of %d points, %zu bytes (%.1f KB each), %.0f %% unanswered, seed %d\n",
	       SURVEYS, POINTS, bytes, (double)bytes / SURVEYS / 1000,
	       100.0 * (double)(corpus.asked - corpus.answered) / (double)corpus.asked, SEED);
}

/* What printing costs depends on how much there is to print. */
static void say_printed(struct bench *b)
{
	enum { SAMPLE = 100 };
	struct sink to_null = b->out;
	size_t in = 0;

	sink_to_memory(&b->out);
	for (unsigned i = 0; i < SAMPLE; i++) {
		assess_and_print(b, i);
		in += b->survey.source->length;
	}
	printf("  %.0f %% of the points are undecided; %.1f bytes are printed for one that is "
	       "read\n",
	       100.0 * (double)b->undecided / (double)b->points, (double)b->out.count / (double)in);
	sink_finish(&b->out);
	b->out = to_null;
}

static void remove_corpus(struct bench *b)
{
	char path[96];

	for (unsigned i = 0; i < SURVEYS; i++) {
		snprintf(path, sizeof(path), "%s/%u.yaml", b->folder, i);
		unlink(path);
	}
}

/* -- start-up ---------------------------------------------------------------------------------- */

static double one_start(char *program, char *survey)
{
	char *arguments[] = {program, (char[]){"assess"}, survey, NULL};
	posix_spawn_file_actions_t actions;
	pid_t child;
	int status;

	posix_spawn_file_actions_init(&actions);
	posix_spawn_file_actions_addopen(&actions, STDOUT_FILENO, "/dev/null", O_WRONLY, 0);
	double start = seconds(CLOCK_MONOTONIC);
	if (posix_spawn(&child, program, &actions, NULL, arguments, environ) != 0 ||
	    waitpid(child, &status, 0) < 0 || !WIFEXITED(status) || WEXITSTATUS(status) != 0)
		give_up("the program did not run");
	double took = seconds(CLOCK_MONOTONIC) - start;
	posix_spawn_file_actions_destroy(&actions);
	return took;
}

static double bare_rulebook(void)
{
	size_t count;
	const struct source *text = rulebook_builtin(&count);
	double start = seconds(CLOCK_MONOTONIC);

	for (size_t i = 0; i < count; i++)
		bare_loop(text[i].text, text[i].length);
	return seconds(CLOCK_MONOTONIC) - start;
}

static void measure_start(struct bench *b, char *program)
{
	double best_start = 1e9, best_bare = 1e9;
	char path[96];

	snprintf(path, sizeof(path), "%s/empty.yaml", b->folder);
	FILE *file = fopen(path, "wb");
	if (!file || fputs("tundish: 1\n", file) < 0 || fclose(file))
		give_up("the corpus could not be written");
	for (int i = 0; i < STARTS; i++) {
		double start = one_start(program, path), loop = bare_rulebook();
		best_start = start < best_start ? start : best_start;
		best_bare = loop < best_bare ? loop : best_bare;
	}
	unlink(path);
	printf("assess of an empty survey, from start to end: %.1f ms, %.1f bare loops over the "
	       "built-in rulebook (%.1f ms)\n",
	       best_start * 1000, best_start / best_bare, best_bare * 1000);
}

/* -- all of it --------------------------------------------------------------------------------- */

static void read_book(struct bench *b, const char *path, struct arena *arena, struct source *source)
{
	const struct source *texts[] = {source};
	struct faults faults;
	struct err err = {0};

	if (!file_read(path, arena, source, NULL, &err))
		give_up(err.message);
	faults_init(&faults, arena);
	if (!rulebook_read(&b->book, texts, 1, date_day(2026, 11, 25), &faults))
		give_up(faults.count ? fault_text(&faults.item[0], arena) : "no memory");
}

static void set_up(struct bench *b)
{
	const char *under = getenv("TMPDIR");

	snprintf(b->folder, sizeof(b->folder), "%.40s/tundish-XXXXXX",
	         under && *under ? under : "/tmp");
	if (!mkdtemp(b->folder))
		give_up("no folder for the corpus");
	sink_to_fd(&b->out, open("/dev/null", O_WRONLY));
	b->judge = judge_create(&b->book);
	if (!b->judge)
		give_up("no memory");
}

int main(int argc, char **argv)
{
	static const unsigned unanswered[] = {15, 45, 0};
	struct bench b = {0};
	struct arena arena = {0};
	struct source book;

	if (argc != 3)
		give_up("usage: bench RULEBOOK TUNDISH");
	read_book(&b, argv[1], &arena, &book);
	set_up(&b);
	for (size_t i = 0; i < sizeof(unanswered) / sizeof(unanswered[0]); i++) {
		write_corpus(&b, unanswered[i]);
		b.points = b.undecided = 0;
		measure(&b);
		say_printed(&b);
		remove_corpus(&b);
	}
	measure_start(&b, argv[2]);
	rmdir(b.folder);
	sink_finish(&b.out);
	judge_destroy(b.judge);
	survey_finish(&b.survey);
	rulebook_finish(&b.book);
	arena_finish(&b.text);
	arena_finish(&arena);
	return EXIT_SUCCESS;
}

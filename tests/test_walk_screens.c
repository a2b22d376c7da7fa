/*
 * Screens as a person sees them, each from a file of tests/golden: its size, `signs: ascii` where
 * nothing else may be drawn, `quiz: practice` or `quiz: exam` where it is one, the keys, then the lines, the cursor marked by `^` under its place. A new one is a new file. UPDATE_GOLDEN=1 writes
 * them anew: look at the difference before you keep it.
 */
#include "quiz_drive.h"
#include "suite.h"

#include <dirent.h>
#include <unistd.h>

enum { GOLDENS_MOST = 100, GOLDENS_LEAST = 14, TEXT_MOST = 1 << 16 };

static char *names[GOLDENS_MOST];
static int name_count;

static int by_name(const void *a, const void *b)
{
	return strcmp(*(char *const *)a, *(char *const *)b);
}

static void list_goldens(void)
{
	DIR *folder = opendir(TUNDISH_TESTS "/golden");
	struct dirent *entry;

	while (folder != NULL && (entry = readdir(folder)) != NULL) {
		const char *dot = strrchr(entry->d_name, '.');

		if (dot != NULL && strcmp(dot, ".screen") == 0 && name_count < GOLDENS_MOST)
			names[name_count++] = strdup(entry->d_name);
	}
	if (folder != NULL)
		closedir(folder);
	qsort(names, (size_t)name_count, sizeof(names[0]), by_name);
}

static void path_of(const char *name, char out[1024])
{
	snprintf(out, 1024, "%s/golden/%s", TUNDISH_TESTS, name);
}

struct golden {
	int cols, rows;
	bool ascii, quiz, exam;
	char *keys;   /* all its `keys:` lines */
	char *screen; /* what follows `----` */
};

/* Takes @p text apart, in place. */
static struct golden golden_of(const char *name, char *text, char keys[TEXT_MOST])
{
	struct golden golden = {.keys = keys};
	char *line = text, *next;

	keys[0] = '\0';
	for (; line != NULL; line = next) {
		next = strchr(line, '\n');
		if (next != NULL)
			*next++ = '\0';
		if (strcmp(line, "----") == 0) {
			golden.screen = next;
			break;
		}
		if (sscanf(line, "size: %dx%d", &golden.cols, &golden.rows) == 2 || line[0] == '#')
			continue;
		if (strcmp(line, "signs: ascii") == 0) {
			golden.ascii = true;
			continue;
		}
		if (strncmp(line, "quiz: ", 6) == 0) {
			golden.quiz = true;
			golden.exam = strcmp(line + 6, "exam") == 0;
			continue;
		}
		ck_assert_msg(strncmp(line, "keys: ", 6) == 0, "%s: `%s` is not understood", name,
		              line);
		strcat(keys, line + 6);
		strcat(keys, " ");
	}
	ck_assert_msg(golden.screen != NULL && golden.rows > 0, "%s: no size or no ----", name);
	return golden;
}

static char *read_all(const char *path)
{
	char *text = malloc(TEXT_MOST);
	FILE *file = fopen(path, "r");

	ck_assert_msg(file != NULL, "%s can't be read", path);
	ck_assert_ptr_nonnull(text);
	text[fread(text, 1, TEXT_MOST - 1, file)] = '\0';
	fclose(file);
	return text;
}

/* The head stays as it was written, up to and with the line of dashes. */
static void rewrite(const char *path, const char *shown)
{
	char *before = read_all(path);
	char *screen = strstr(before, "----\n");
	FILE *file = fopen(path, "w");

	ck_assert_ptr_nonnull(file);
	fwrite(before, 1, (size_t)(screen - before) + 5, file);
	fputs(shown, file);
	fclose(file);
	free(before);
}

START_TEST(screen_is_as_it_was)
{
	char path[1024], keys[TEXT_MOST];
	const char *update = getenv("UPDATE_GOLDEN");
	struct golden golden;
	struct quizzed q = {0};
	struct drive *d = &q.drive;
	char *text, *shown;

	path_of(names[_i], path);
	text = read_all(path);
	golden = golden_of(names[_i], text, keys);
	if (golden.quiz)
		quiz_begin_on(&q, &drive_book, golden.rows, golden.cols, golden.exam, golden.ascii);
	else
		drive_begin_with(d, golden.rows, golden.cols,
		                 &(struct walk_options){
		                         .name = "elm_row.yaml", .fresh = true, .ascii = golden.ascii});
	drive(d, golden.keys);
	shown = drive_text(d);
	if (update != NULL && strcmp(update, "1") == 0)
		rewrite(path, shown);
	else
		ck_assert_msg(strcmp(shown, golden.screen) == 0, "%s is now:\n%s", names[_i],
		              shown);
	free(shown);
	free(text);
	quiz_end_drive(&q);
}
END_TEST

START_TEST(there_are_goldens_at_all)
{
	ck_assert_int_ge(name_count, GOLDENS_LEAST);
}
END_TEST

int main(void)
{
	Suite *suite = suite_create("walk screens");
	TCase *screens = tcase_create("screens");
	int status;

	list_goldens();
	tcase_add_unchecked_fixture(screens, quiz_load, drive_unload);
	tcase_add_test(screens, there_are_goldens_at_all);
	tcase_add_loop_test(screens, screen_is_as_it_was, 0, name_count);
	suite_add_tcase(suite, screens);
	status = suite_run(suite);
	for (int i = 0; i < name_count; i++)
		free(names[i]);
	return status;
}

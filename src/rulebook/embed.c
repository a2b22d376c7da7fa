/*
 * Built and run while building: writes a C file that holds the rulebook's texts as arrays of bytes.
 *
 * embed OUTPUT DEPENDENCIES ROOT
 *
 * Takes every .yaml file below ROOT, by name in byte order; in the program its name is "rulebook/"
 * and its path below ROOT. DEPENDENCIES, in the way of make, names files and folders: so a file
 * that is added or taken away is seen too.
 */
#include <dirent.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

enum { PATH_MOST = 4096, FILES_MOST = 2000 };

static struct {
	char *name; /* below the root */
	size_t length;
} text[FILES_MOST];
static int text_count;
static FILE *out, *dependencies;
static const char *root;

static void fail(const char *what)
{
	perror(what);
	exit(EXIT_FAILURE);
}

/* Numbers, not one long string: a string of that length is more than every compiler must take. */
static size_t write_bytes(FILE *in)
{
	size_t length = 0;

	for (int byte = getc(in); byte != EOF; byte = getc(in))
		fprintf(out, "%d,%s", byte, ++length % 32 == 0 ? "\n" : "");
	return length;
}

static void embed_file(const char *path)
{
	FILE *in = fopen(path, "rb");

	if (!in)
		fail(path);
	if (text_count == FILES_MOST) {
		fprintf(stderr, "%s: more than %d texts: raise FILES_MOST in embed.c\n", path,
		        FILES_MOST);
		exit(EXIT_FAILURE);
	}
	fprintf(out, "static const unsigned char text_%d[] = {\n", text_count);
	text[text_count].length = write_bytes(in);
	fputs("0};\n\n", out);
	text[text_count].name = strdup(path + strlen(root) + 1);
	if (ferror(in) || fclose(in) != 0 || !text[text_count].name)
		fail(path);
	text_count++;
}

/* A blank in a path ends it, for make, unless it is escaped. */
static void depend_on(const char *path)
{
	fputc(' ', dependencies);
	for (; *path; path++)
		fprintf(dependencies, *path == ' ' ? "\\%c" : "%c", *path);
}

static int is_yaml(const char *name)
{
	const char *end = strrchr(name, '.');

	return end && strcmp(end, ".yaml") == 0;
}

static void embed_folder(const char *folder)
{
	struct dirent **entry;
	int count = scandir(folder, &entry, NULL, alphasort);

	if (count < 0)
		fail(folder);
	depend_on(folder);
	for (int i = 0; i < count; i++) {
		char path[PATH_MOST];
		struct stat status;

		if (snprintf(path, sizeof(path), "%s/%s", folder, entry[i]->d_name) >= PATH_MOST ||
		    stat(path, &status) != 0)
			fail(path);
		if (entry[i]->d_name[0] != '.' && S_ISDIR(status.st_mode)) {
			embed_folder(path);
		} else if (entry[i]->d_name[0] != '.' && is_yaml(entry[i]->d_name)) {
			depend_on(path);
			embed_file(path);
		}
		free(entry[i]);
	}
	free(entry);
}

static void write_table(void)
{
	fputs("static const struct source texts[] = {\n", out);
	for (int i = 0; i < text_count; i++)
		fprintf(out, "\t{\"rulebook/%s\", (const char *)text_%d, %zu},\n", text[i].name, i,
		        text[i].length);
	/* An array of nothing is no C. */
	fputs("\t{\"\", \"\", 0},\n};\n\n", out);
	fprintf(out,
	        "const struct source *rulebook_builtin(size_t *count)\n{\n\t*count = %d;\n\treturn "
	        "texts;\n}\n",
	        text_count);
}

int main(int argc, char **argv)
{
	if (argc != 4) {
		fputs("usage: embed OUTPUT DEPENDENCIES ROOT\n", stderr);
		return 2;
	}
	out = fopen(argv[1], "wb");
	dependencies = fopen(argv[2], "wb");
	root = argv[3];
	if (!out || !dependencies)
		fail(argv[1]);
	fputs("/* Made by src/rulebook/embed.c from the texts beside it. */\n"
	      "#include \"tundish/store/rulebook_read.h\"\n\n",
	      out);
	fprintf(dependencies, "%s:", argv[1]);
	embed_folder(root);
	fputs("\n", dependencies);
	write_table();
	for (int i = 0; i < text_count; i++)
		free(text[i].name);
	if (ferror(out) || fclose(out) != 0 || ferror(dependencies) || fclose(dependencies) != 0)
		fail(argv[1]);
	return EXIT_SUCCESS;
}

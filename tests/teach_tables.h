/**
 * @file
 * For tests only: the tables of docs/quiz.md, read as they stand there. So the page is what is tested.
 */
#ifndef TUNDISH_TESTS_TEACH_TABLES_H
#define TUNDISH_TESTS_TEACH_TABLES_H

#include "tundish/teach/task.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { TABLE_ROWS_MOST = 16, TABLE_COLUMNS_MOST = 8 };

struct teach_table {
	enum grade cell[TABLE_ROWS_MOST][TABLE_COLUMNS_MOST];
	size_t rows, columns;
};

static inline enum grade teach_cell(const char *text, size_t length)
{
	static const struct {
		const char *text;
		enum grade grade;
	} known[] = {
	        {"R",     GRADE_RIGHT    },
	        {"c",     GRADE_CAUTIOUS },
	        {"w",     GRADE_WRONG    },
	        {"**D**", GRADE_DANGEROUS}
        };

	for (size_t i = 0; i < sizeof known / sizeof *known; i++)
		if (strlen(known[i].text) == length && memcmp(known[i].text, text, length) == 0)
			return known[i].grade;
	return GRADE_NONE;
}

/* `| up to 3 | **D** | c | R |`: what stands after the first cell. */
static inline void teach_table_row(struct teach_table *table, const char *line)
{
	const char *at = strchr(line + 1, '|');
	size_t column = 0;

	while (at && at[1] != '\0' && at[1] != '\n') {
		const char *from = at + 1, *to = strchr(from, '|');

		if (!to || column == TABLE_COLUMNS_MOST || table->rows == TABLE_ROWS_MOST)
			abort();
		at = to;
		while (*from == ' ')
			from++;
		while (to > from && to[-1] == ' ')
			to--;
		table->cell[table->rows][column++] = teach_cell(from, (size_t)(to - from));
	}
	table->rows++;
	table->columns = column;
}

/** The table under the heading that names @p family. Aborts where there is none, or a cell is no grade. */
static inline void teach_table_read(struct teach_table *table, enum family family)
{
	FILE *file = fopen(TUNDISH_TESTS "/../docs/quiz.md", "r");
	char line[1000], name[40];
	bool under = false;
	size_t lines = 0;

	memset(table, 0, sizeof *table);
	snprintf(name, sizeof name, "`%s`", family_name(family));
	while (file && fgets(line, sizeof line, file)) {
		if (line[0] == '#')
			under = strstr(line, name) != NULL;
		if (under && line[0] == '|' && lines++ >= 2)
			teach_table_row(table, line);
	}
	if (!file || table->rows == 0)
		abort();
	fclose(file);
	for (size_t r = 0; r < table->rows; r++)
		for (size_t c = 0; c < table->columns; c++)
			if (table->cell[r][c] == GRADE_NONE)
				abort();
}

#endif

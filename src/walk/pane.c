#include "pane.h"

#include "tundish/base/text.h"

#include <string.h>

void pane_put(struct pane *pane, struct arena *arena, const struct pane_line *line)
{
	struct pane_line *grown =
	        arena_grow(arena, pane->line, pane->count, &pane->room, sizeof(*grown));

	if (grown == NULL || line->text == NULL)
		return;
	pane->line = grown;
	grown[pane->count++] = *line;
}

void pane_add(struct pane *pane, struct arena *arena, enum role role, int indent, const char *text)
{
	pane_put(pane, arena, &(struct pane_line){.text = text, .role = role, .indent = indent});
}

void pane_head(struct pane *pane, struct arena *arena, const char *text)
{
	pane_add(pane, arena, ROLE_PLAIN, 0, "");
	pane_add(pane, arena, ROLE_HEAD, 0, text);
}

void pane_wrap(struct pane *pane, struct arena *arena, enum role role, int indent, const char *text,
               int cols)
{
	size_t left = strlen(text);
	int width = cols - indent < 8 ? 8 : cols - indent;

	do {
		size_t bytes = text_wrap(text, left, width);

		pane_add(pane, arena, role, indent, arena_copy(arena, text, bytes));
		while (bytes < left && text[bytes] == ' ')
			bytes++;
		text += bytes;
		left -= bytes;
	} while (left > 0);
}

struct told_texts pane_texts(const struct pane *pane, struct arena *arena)
{
	struct told_texts out = {arena_take(arena, (pane->count + 1) * sizeof(*out.item)), 0};

	for (size_t i = 0; out.item != NULL && i < pane->count; i++)
		if (pane->line[i].text[0] != '\0')
			out.item[out.count++] =
			        (struct told_text){pane->line[i].text, pane->line[i].indent};
	return out;
}

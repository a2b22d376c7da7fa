/*
 * What the terminal sends, as keys of the walk.
 */
#include "inside.h"

#include <string.h>

static size_t put_utf8(wint_t c, char out[8])
{
	if (c < 0x80) {
		out[0] = (char)c;
		return 1;
	}
	if (c < 0x800) {
		out[0] = (char)(0xc0 | c >> 6);
		out[1] = (char)(0x80 | (c & 0x3f));
		return 2;
	}
	if (c < 0x10000) {
		out[0] = (char)(0xe0 | c >> 12);
		out[1] = (char)(0x80 | (c >> 6 & 0x3f));
		out[2] = (char)(0x80 | (c & 0x3f));
		return 3;
	}
	out[0] = (char)(0xf0 | (c >> 18 & 7));
	out[1] = (char)(0x80 | (c >> 12 & 0x3f));
	out[2] = (char)(0x80 | (c >> 6 & 0x3f));
	out[3] = (char)(0x80 | (c & 0x3f));
	return 4;
}

static struct walk_key text_key(struct key_reader *reader, enum walk_key_name name, wint_t c)
{
	size_t length = put_utf8(c, reader->text);

	return (struct walk_key){name, reader->text, length};
}

/* A key of curses that the walk knows; codes are never compared with characters. */
static bool code_key(struct key_reader *reader, wint_t code, struct walk_key *out)
{
	static const struct {
		wint_t code;
		enum walk_key_name name;
	} known[] = {
	        {KEY_ENTER,     WALK_KEY_ENTER    },
	        {KEY_BTAB,      WALK_KEY_BACK_TAB },
	        {KEY_BACKSPACE, WALK_KEY_BACKSPACE},
	        {KEY_DC,        WALK_KEY_DELETE   },
	        {KEY_UP,        WALK_KEY_UP       },
	        {KEY_DOWN,      WALK_KEY_DOWN     },
	        {KEY_LEFT,      WALK_KEY_LEFT     },
	        {KEY_RIGHT,     WALK_KEY_RIGHT    },
	        {KEY_HOME,      WALK_KEY_HOME     },
	        {KEY_FIND,      WALK_KEY_HOME     },
	        {KEY_END,       WALK_KEY_END      },
	        {KEY_SELECT,    WALK_KEY_END      },
	        {KEY_PPAGE,     WALK_KEY_PAGE_UP  },
	        {KEY_NPAGE,     WALK_KEY_PAGE_DOWN},
	};

	if (code == KEY_F(1)) {
		*out = text_key(reader, WALK_KEY_CONTROL, 'g');
		return true;
	}
	for (size_t i = 0; i < sizeof(known) / sizeof(known[0]); i++) {
		if (known[i].code == code) {
			*out = (struct walk_key){.name = known[i].name};
			return true;
		}
	}
	return false;
}

/* The code of curses for a sequence as most terminals send it; 0: not known. Modifiers are let go.
 */
static wint_t sequence_code(unsigned number, wint_t last)
{
	static const struct {
		unsigned number;
		wint_t last, code;
	} known[] = {
	        {0,   'A', KEY_UP          },
	        {0,   'B', KEY_DOWN        },
	        {0,   'C', KEY_RIGHT       },
	        {0,   'D', KEY_LEFT        },
	        {0,   'H', KEY_HOME        },
	        {0,   'F', KEY_END         },
	        {0,   'Z', KEY_BTAB        },
	        {0,   'M', KEY_ENTER       },
	        {0,   'P', KEY_F0 + 1      },
	        {1,   '~', KEY_HOME        },
	        {7,   '~', KEY_HOME        },
	        {4,   '~', KEY_END         },
	        {8,   '~', KEY_END         },
	        {3,   '~', KEY_DC          },
	        {5,   '~', KEY_PPAGE       },
	        {6,   '~', KEY_NPAGE       },
	        {200, '~', CODE_PASTE_BEGIN},
	        {201, '~', CODE_PASTE_END  },
	};

	for (size_t i = 0; i < sizeof(known) / sizeof(known[0]); i++)
		if (known[i].last == last && (last != '~' || known[i].number == number))
			return known[i].code;
	return 0;
}

/*
 * What follows an Esc at once is a sequence that curses does not know, or that came too close to
 * the key before. It is read to its end, so that its letters are not taken for commands.
 *
 * @return the code, 0 for one that means nothing, ERR where it was the Esc key.
 */
static int read_sequence(void)
{
	unsigned number = 0;
	bool first = true;
	wint_t c;
	int got = get_wch(&c);

	if (got == KEY_CODE_YES)
		ungetch((int)c);
	if (got != OK)
		return ERR;
	if (c != '[' && c != 'O') {
		unget_wch((wchar_t)c);
		return ERR;
	}
	while (get_wch(&c) == OK && (c < 0x40 || c > 0x7e)) {
		if (c < '0' || c > '9')
			first = false;
		else if (first && number < 1000)
			number = number * 10 + (unsigned)(c - '0');
	}
	return (int)sequence_code(number, c);
}

static bool char_key(struct key_reader *reader, wint_t c, struct walk_key *out)
{
	if (c == '\r' || c == '\n')
		*out = (struct walk_key){.name = WALK_KEY_ENTER};
	else if (c == '\t')
		*out = (struct walk_key){.name = WALK_KEY_TAB};
	else if (c == 0x08 || c == 0x7f)
		*out = (struct walk_key){.name = WALK_KEY_BACKSPACE};
	else if (c == 0x1b)
		*out = (struct walk_key){.name = WALK_KEY_ESCAPE};
	else if (c >= 1 && c <= 26)
		*out = text_key(reader, WALK_KEY_CONTROL, c + 'a' - 1);
	else if (c < 0x20)
		*out = text_key(reader, WALK_KEY_CONTROL, c + 0x40);
	else if (c >= 0xd800 && (c > 0x10ffff || c < 0xe000))
		return false;
	else
		*out = text_key(reader, WALK_KEY_TEXT, c);
	return true;
}

static void paste_add(struct key_reader *reader, wint_t c)
{
	char bytes[8];
	size_t length = put_utf8(c, bytes);

	if (reader->paste_length + length > PASTE_MOST)
		return;
	memcpy(reader->paste + reader->paste_length, bytes, length);
	reader->paste_length += length;
}

bool keys_end_paste(struct key_reader *reader, struct walk_key *out)
{
	if (!reader->pasting)
		return false;
	reader->pasting = false;
	*out = (struct walk_key){WALK_KEY_PASTE, reader->paste, reader->paste_length};
	return true;
}

/* @return whether @p out was set. */
static bool take(struct key_reader *reader, int got, wint_t c, struct walk_key *out)
{
	if (got == KEY_CODE_YES && c == CODE_PASTE_BEGIN) {
		reader->pasting = true;
		reader->paste_length = 0;
		return false;
	}
	if (got == KEY_CODE_YES && c == CODE_PASTE_END)
		return keys_end_paste(reader, out);
	if (reader->pasting) {
		if (got == OK)
			paste_add(reader, c);
		return false;
	}
	return got == KEY_CODE_YES ? code_key(reader, c, out) : char_key(reader, c, out);
}

bool keys_next(struct key_reader *reader, struct walk_key *out)
{
	wint_t c;
	int got;

	while ((got = get_wch(&c)) != ERR) {
		if (got == OK && c == 0x1b) {
			int code = read_sequence();

			if (code == 0)
				continue;
			if (code != ERR) {
				got = KEY_CODE_YES;
				c = (wint_t)code;
			}
		}
		if (take(reader, got, c, out))
			return true;
	}
	return false;
}

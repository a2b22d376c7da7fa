/* The chain of amendments: its canonical form, what it shows, and what it takes to write one. */
#include "tundish/store/amendments.h"
#include "tundish/store/rulebook_read.h"
#include "tundish/store/survey_read.h"

#include "suite.h"
#include "texts.h"

#include <check.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <yaml.h>

enum { ON = 20782 /* 2026-11-25 */, TEXT_MOST = 1 << 16 };

static char fixture[TEXT_MOST];
static size_t fixture_length;
static struct rulebook book;
static struct source more_text;
static struct arena arena;

static const char more[] =
        "questions:\n"
        "  - { id: surveyor, scope: premises, at: premises, form: text, label: Who }\n"
        "  - { id: signed_off, scope: premises, at: premises, form: date, label: When }\n";

static void set_up(void)
{
	const struct source *texts[] = {small_book(), &more_text};
	struct faults faults;

	arena_init(&arena);
	faults_init(&faults, &arena);
	fixture_length =
	        text_of(TUNDISH_TESTS "/amendments/signed.yaml", fixture, sizeof(fixture)).length;
	more_text = (struct source){"more.yaml", more, sizeof(more) - 1};
	ck_assert_msg(rulebook_read(&book, texts, 2, ON, &faults), "%s",
	              faults.count ? faults.item[0].message : "");
}

static void tear_down(void)
{
	rulebook_finish(&book);
	arena_finish(&arena);
}

static struct source source_of(const char *text)
{
	return (struct source){"house.yaml", text, strlen(text)};
}

/* -- the canonical form ------------------------------------------------------------------------ */

struct canonical_case {
	const char *title, *text, *canonical;
};

/* Worked out by hand from docs/survey.md; never to be changed. */
static const struct canonical_case forms[] = {
        {"nothing",                                  "",                                 "n"                          },
        {"a map",                                    "tundish: 1\n",                     "m1:s7:tundishs1:1"          },
        {"keys in the order of their bytes",         "b: 1\na: 2\nB: 3\n",               "m3:s1:Bs1:3s1:as1:2s1:bs1:1"},
        {"a list keeps its order",                   "a: [x, '']\n",                     "m1:s1:al2:s1:xs0:"          },
        {"nothing written is not an empty text",     "a:\n",                             "m1:s1:an"                   },
        {"all that is in a map, unknown keys too",   "x-me: {y: {z: no}}\n",
         "m1:s4:x-mem1:s1:ym1:s1:zs2:no"                                                                              },
        {"lengths count bytes",                      "a: \xc3\xa9\n",                    "m1:s1:as2:\xc3\xa9"         },
        {"a text over lines",                        "a: |\n  x\n  y\n",                 "m1:s1:as4:x\ny\n"           },
        {"comments are not in it",                   "# c\na: 1 # d\n",                  "m1:s1:as1:1"                },
        {"nor are the amendments",                   "a: 1\namendments: [ { x: 1 } ]\n", "m1:s1:as1:1"                },
        {"but what goes by that name further in is", "a: { amendments: 1 }\n",
         "m1:s1:am1:s10:amendmentss1:1"                                                                               },
        {"quotes do not matter",                     "'a': \"1\"\n",                     "m1:s1:as1:1"                },
        {"nor brackets",                             "{ \"a\": [ 1, 2 ] }\n",            "m1:s1:al2:s1:1s1:2"         },
        {"nor line ends and a mark of byte order",
         "\xef\xbb\xbf"
         "a:\r\n- 1\r\n- 2\r\n",                                                         "m1:s1:al2:s1:1s1:2"         },
        {"the example of the docs",                  "{b: [1, ''], a: }\n",              "m2:s1:ans1:bl2:s1:1s0:"     },
        {"an empty list and map",                    "a: []\nb: {}\n",                   "m2:s1:al0:s1:bm0:"          },
};

START_TEST(canonical_form)
{
	const struct canonical_case *form = &forms[_i];
	struct source source = source_of(form->text);
	struct sink sink;
	struct err err = {0};

	sink_to_memory(&sink);
	ck_assert_msg(amendments_canonical(&source, &sink, &err), "%s: %s", form->title,
	              err.message);
	ck_assert_msg(strcmp(sink.bytes, form->canonical) == 0, "%s: %s", form->title, sink.bytes);
	sink_finish(&sink);
}
END_TEST

/* -- writing ----------------------------------------------------------------------------------- */

static const char draft[] = "# by hand\n"
                            "tundish: 1\n"
                            "premises:\n"
                            "  ref: elm\n"
                            "  surveyor: A. Sample   # me\n"
                            "  parts: [ { ref: flat, use: house } ]\n"
                            "rooms:\n"
                            "  - ref: kitchen\n"
                            "    part: flat\n"
                            "    points:\n"
                            "      - { ref: K1, kind: kitchen_mixer, seen: yes }\n";

static const struct amender first = {"nobody", "never shown", "2026-11-25T09:00:00Z"};
static const struct amender second = {"B. Checker", "no: \"it\" leaks", "2026-11-26T10:00:00Z"};

/* The text with these changes made and saved. */
static const char *saved(const char *text, const struct amender *by, const struct change *change,
                         size_t count, struct err *err)
{
	struct source source = source_of(text);
	struct survey survey = {0};
	struct faults faults;
	char *out = NULL;
	size_t length = 0;

	faults_init(&faults, &arena);
	ck_assert_msg(survey_read(&survey, &book, &source, &faults), "%s", faults.item[0].message);
	for (size_t i = 0; i < count; i++)
		ck_assert_msg(survey_apply(&survey, &change[i], err), "%s", err->message);
	if (!amendments_write(&survey, &source, by, &arena, &out, &length, err))
		out = NULL;
	else
		ck_assert_uint_eq(strlen(out), length);
	survey_finish(&survey);
	return out;
}

static struct chain chain_of(const char *text, struct faults *faults)
{
	struct source *source = arena_take(&arena, sizeof(*source));
	struct chain chain;

	*source = source_of(text);
	faults_init(faults, &arena);
	ck_assert(chain_read(source, &arena, &chain, faults));
	return chain;
}

static const struct change sign = {"premises/signed_off", NULL, "2026-11-25"};
static const struct change spout = {"K1/answers/spout", NULL, "fixed"};

static const char *signed_text(void)
{
	struct err err = {0};
	const char *text = saved(draft, &first, &sign, 1, &err);

	ck_assert_msg(text != NULL, "%s", err.message);
	return text;
}

START_TEST(no_chain_before_signing_off)
{
	struct err err = {0};
	struct faults faults;
	const char *text = saved(draft, &first, &spout, 1, &err);

	ck_assert_ptr_nonnull(strstr(text, "spout: fixed"));
	ck_assert_ptr_null(strstr(text, "amendments"));
	ck_assert_uint_eq(chain_of(text, &faults).count, 0);
	ck_assert_uint_eq(faults.count, 0);
}
END_TEST

START_TEST(signing_off_is_the_first_amendment)
{
	struct faults faults;
	const char *text = signed_text();
	struct chain chain = chain_of(text, &faults);

	ck_assert_uint_eq(chain.count, 1);
	ck_assert_uint_eq(faults.count, 0);
	ck_assert(!chain.broken && !chain.outside);
	ck_assert_str_eq(chain.amendment[0].who, "A. Sample");
	ck_assert_str_eq(chain.amendment[0].why, "signed off");
	ck_assert_str_eq(chain.amendment[0].at, "2026-11-25T09:00:00Z");
	ck_assert_uint_eq(chain.amendment[0].change_count, 0);
	ck_assert_ptr_nonnull(strstr(text, "# by hand\n"));
	ck_assert_ptr_nonnull(strstr(text, "surveyor: A. Sample   # me\n"));
}
END_TEST

START_TEST(a_change_is_an_amendment)
{
	struct err err = {0};
	struct faults faults;
	const char *before = signed_text();
	const char *text = saved(before, &second, &spout, 1, &err);
	struct chain chain;

	ck_assert_msg(text != NULL, "%s", err.message);
	chain = chain_of(text, &faults);
	ck_assert_uint_eq(chain.count, 2);
	ck_assert_uint_eq(faults.count, 0);
	ck_assert_str_eq(chain.amendment[1].who, "B. Checker");
	ck_assert_str_eq(chain.amendment[1].why, "no: \"it\" leaks");
	ck_assert_uint_eq(chain.amendment[1].change_count, 1);
	ck_assert_str_eq(chain.amendment[1].change[0].where, "K1/answers/spout");
	ck_assert_ptr_null(chain.amendment[1].change[0].before);
	ck_assert_str_eq(chain.amendment[1].change[0].after, "fixed");
	ck_assert_str_eq(chain.head, chain.amendment[1].head);
	ck_assert_str_ne(chain.head, chain.amendment[0].head);
	/* A third, that takes the answer away. */
	const struct change away = {"K1/answers/spout", "fixed", NULL};
	text = saved(text, &second, &away, 1, &err);
	ck_assert_msg(text != NULL, "%s", err.message);
	chain = chain_of(text, &faults);
	ck_assert_uint_eq(chain.count, 3);
	ck_assert_str_eq(chain.amendment[2].change[0].before, "fixed");
	ck_assert_ptr_null(chain.amendment[2].change[0].after);
}
END_TEST

START_TEST(nothing_changed_adds_nothing)
{
	struct err err = {0};
	const char *before = signed_text();

	ck_assert_str_eq(saved(before, &second, NULL, 0, &err), before);
}
END_TEST

START_TEST(a_clock_put_back_is_noticed)
{
	struct amender early = {"B. Checker", "because", "2026-11-24T10:00:00Z"};
	struct err err = {0};
	struct faults faults;
	struct chain chain = chain_of(saved(signed_text(), &early, &spout, 1, &err), &faults);

	ck_assert_uint_eq(chain.count, 2);
	ck_assert_uint_eq(faults.fatal, 0);
	ck_assert_uint_eq(faults.count, 1);
	ck_assert_ptr_nonnull(strstr(faults.item[0].message, "before the one before it"));
}
END_TEST

/* Line ends and no line end at the end. */
START_TEST(other_line_ends)
{
	static char crlf[2 * sizeof(draft)];
	struct err err = {0};
	struct faults faults;
	size_t length = 0;

	for (const char *at = draft; *at; at++) {
		if (*at == '\n' && !at[1])
			break;
		if (*at == '\n')
			crlf[length++] = '\r';
		crlf[length++] = *at;
	}
	const char *text = saved(crlf, &first, &sign, 1, &err);
	ck_assert_msg(text != NULL, "%s", err.message);
	ck_assert_uint_eq(chain_of(text, &faults).count, 1);
	for (const char *at = text; *at; at++)
		ck_assert_msg(*at != '\n' || at[-1] == '\r', "a bare line end after: %.20s",
		              at - 20);
}
END_TEST

/* -- what it shows ----------------------------------------------------------------------------- */

/* @return @p text with the first @p from in it replaced. */
static const char *replaced(const char *text, const char *from, const char *to)
{
	const char *at = strstr(text, from);

	ck_assert_msg(at != NULL, "%s", from);
	return arena_print(&arena, "%.*s%s%s", (int)(at - text), text, to, at + strlen(from));
}

struct forgery {
	const char *title, *from, *to;
	const char *says; /* NULL: it is none */
	bool broken;
};

static const struct forgery forgeries[] = {
        {"nothing",                   "seen: part",      "seen: part",                      NULL,                                    false},
        {"a comment",                 "# kept by hand",  "# forged",                        NULL,                                    false},
        {"blanks and quotes",         "name: Kitchen",   "name:   'Kitchen'",               NULL,                                    false},
        {"an answer",                 "spout: pull_out", "spout: fixed",
         "`rooms/kitchen` was changed since amendment 3",                                                                            false},
        {"a key that we do not know", "x-key: mine",     "x-key: yours",                    "`premises` was changed",
         false                                                                                                                            },
        {"a room taken out",          "  - ref: hall\n", "",                                "`rooms/hall` was taken out",            false},
        {"a room put in",             "  - ref: hall\n", "  - ref: hall\n  - ref: attic\n",
         "`rooms/attic` was put in",                                                                                                 false},
        {"a part put in",             "rooms:\n",        "x-more: 1\nrooms:\n",             "`x-more` was put in",                   false},
        {"who",                       "who: B. Checker", "who: C. Checker",                 "amendment 2 is where the chain breaks",
         true                                                                                                                             },
        {"why",                       "why: signed off", "why: signed on",                  "amendment 1 is where",                  true },
        {"before",                    "before: fixed",   "before: pull_out",                "amendment 2 is where",                  true },
        {"a sequence",                "sequence: 2",     "sequence: 3",                     "amendment 2 is where",                  true },
        {"a key in an amendment",     "sequence: 2",     "x-more: 1\n    sequence: 2",
         "amendment 2 is where",                                                                                                     true },
};

START_TEST(shows_what_was_forged)
{
	const struct forgery *forgery = &forgeries[_i];
	struct faults faults;
	struct chain chain = chain_of(replaced(fixture, forgery->from, forgery->to), &faults);

	ck_assert_msg(chain.broken == forgery->broken, "%s", forgery->title);
	ck_assert_msg(chain.outside == (forgery->says && !forgery->broken), "%s", forgery->title);
	ck_assert_msg((faults.fatal > 0) == (forgery->says != NULL), "%s", forgery->title);
	if (forgery->says)
		ck_assert_msg(strstr(faults.item[0].message, forgery->says), "%s: %s",
		              forgery->title, faults.item[0].message);
}
END_TEST

/* An amendment cut out, wherever it stands; the last one with its changes left in. */
START_TEST(a_missing_amendment)
{
	struct faults faults;
	char from[40], to[40];

	snprintf(from, sizeof(from), "  - sequence: %d\n", _i);
	snprintf(to, sizeof(to), "  - sequence: %d\n", _i + 1);
	const char *start = strstr(fixture, from), *end = start ? strstr(start, to) : NULL;
	ck_assert_ptr_nonnull(start);
	const char *text =
	        arena_print(&arena, "%.*s%s", (int)(start - fixture), fixture, end ? end : "");
	struct chain chain = chain_of(text, &faults);
	ck_assert_uint_gt(faults.fatal, 0);
	ck_assert(chain.broken != chain.outside);
	ck_assert_uint_eq(chain.count, _i == 3 ? 2 : (size_t)_i - 1);
}
END_TEST

START_TEST(all_amendments_missing)
{
	struct faults faults;
	const char *start = strstr(fixture, "amendments:");
	struct chain chain =
	        chain_of(arena_print(&arena, "%.*s", (int)(start - fixture), fixture), &faults);

	ck_assert(chain.outside);
	ck_assert_uint_eq(faults.fatal, 1);
	ck_assert_ptr_nonnull(strstr(faults.item[0].message, "there are no amendments"));
}
END_TEST

/* -- every byte -------------------------------------------------------------------------------- */

/* What libyaml itself makes of a text: kinds and values, one after the other. @return false: no YAML. */
static bool events_of(const char *text, size_t length, struct sink *out)
{
	yaml_parser_t parser;
	yaml_event_t event;
	bool more_to_come = true, ok = true;

	sink_to_memory(out);
	yaml_parser_initialize(&parser);
	yaml_parser_set_input_string(&parser, (const unsigned char *)text, length);
	while (more_to_come && (ok = yaml_parser_parse(&parser, &event) != 0)) {
		sink_print(out, "%d ", (int)event.type);
		if (event.type == YAML_SCALAR_EVENT) {
			bool nothing = event.data.scalar.length == 0 &&
			               event.data.scalar.style == YAML_PLAIN_SCALAR_STYLE;
			sink_print(out, "%zu%s ", event.data.scalar.length, nothing ? "-" : "");
			sink_bytes(out, (const char *)event.data.scalar.value,
			           event.data.scalar.length);
		}
		more_to_come = event.type != YAML_STREAM_END_EVENT;
		yaml_event_delete(&event);
	}
	yaml_parser_delete(&parser);
	return ok;
}

/* Whether a flipped text is taken for a sound one that says the same. */
static bool passes(const char *text, size_t length)
{
	struct source source = {"house.yaml", text, length};
	struct survey survey = {0};
	struct arena own = {0};
	struct faults faults;
	struct chain chain;
	bool ok;

	faults_init(&faults, &own);
	ok = chain_read(&source, &own, &chain, &faults) && faults.fatal == 0 && chain.count == 3;
	survey_finish(&survey);
	arena_finish(&own);
	return ok;
}

START_TEST(every_byte_that_changes_the_meaning)
{
	static const char masks[] = {0x01, 0x02, 0x20, 0x40};
	struct sink was, is;
	size_t told = 0, silent = 0;

	ck_assert(passes(fixture, fixture_length));
	ck_assert(events_of(fixture, fixture_length, &was));
	for (size_t i = 0; i < fixture_length; i++) {
		char kept = fixture[i];
		fixture[i] = (char)(kept ^ masks[_i]);
		bool yaml = events_of(fixture, fixture_length, &is);
		bool same =
		        yaml && was.count == is.count && memcmp(was.bytes, is.bytes, is.count) == 0;
		ck_assert_msg(same == passes(fixture, fixture_length),
		              "byte %zu, `%c` for `%c`: %s", i, fixture[i], kept,
		              same ? "the same, but refused" : "not seen");
		told += !same;
		silent += same;
		sink_finish(&is);
		fixture[i] = kept;
	}
	sink_finish(&was);
	ck_assert_uint_gt(told, fixture_length / 2);
	ck_assert_uint_gt(silent, 0);
}
END_TEST

/* -- changed outside --------------------------------------------------------------------------- */

START_TEST(changed_outside_is_refused_then_adopted)
{
	struct err err = {0};
	struct faults faults;
	const char *forged = replaced(signed_text(), "seen: yes", "seen: part");
	struct source source = source_of(forged);
	struct survey survey = {0};
	char *text = NULL;
	size_t length = 0;

	ck_assert_ptr_null(saved(forged, &second, &spout, 1, &err));
	ck_assert_int_eq(err.kind, ERR_CONFLICT);
	ck_assert_ptr_nonnull(strstr(err.message, "outside tundish"));

	faults_init(&faults, &arena);
	ck_assert(survey_read(&survey, &book, &source, &faults));
	err = (struct err){0};
	ck_assert_msg(amendments_adopt(&survey, &source, &second, &arena, &text, &length, &err),
	              "%s", err.message);
	ck_assert_msg(strncmp(text, forged, strlen(forged)) == 0, "the text before it was touched");
	struct chain chain = chain_of(text, &faults);
	ck_assert_uint_eq(faults.count, 0);
	ck_assert_uint_eq(chain.count, 2);
	ck_assert(chain.amendment[1].adopted);
	ck_assert_str_eq(chain.amendment[1].who, "B. Checker");

	source = source_of(text);
	ck_assert(!amendments_adopt(&survey, &source, &second, &arena, &text, &length, &err));
	ck_assert_int_eq(err.kind, ERR_USAGE);
	survey_finish(&survey);
}
END_TEST

START_TEST(a_broken_chain_is_not_written)
{
	struct err err = {0};
	const char *forged = replaced(signed_text(), "why: signed off", "why: signed on");

	ck_assert_ptr_null(saved(forged, &second, &spout, 1, &err));
	ck_assert_int_eq(err.kind, ERR_CONFLICT);
}
END_TEST

START_TEST(amendments_in_brackets_are_not_added_to)
{
	struct err err = {0};
	struct faults faults;
	const char *text = signed_text();
	const char *start = strstr(text, "amendments:");
	struct chain chain = chain_of(text, &faults);

	/* The same said in brackets: it holds, but nothing can be put behind it line by line. */
	const char *parts = strstr(start, "parts:");
	ck_assert_ptr_nonnull(parts);
	(void)chain;
	const char *flow = arena_print(&arena, "%.*samendments: []\n", (int)(start - text), text);
	ck_assert_ptr_null(saved(flow, &second, &spout, 1, &err));
	ck_assert_int_eq(err.kind, ERR_CONFLICT);
}
END_TEST

int main(void)
{
	Suite *suite = suite_create("amendments");
	TCase *tc = tcase_create("amendments");

	tcase_add_checked_fixture(tc, set_up, tear_down);
	tcase_set_timeout(tc, 120);
	tcase_add_loop_test(tc, canonical_form, 0, sizeof(forms) / sizeof(forms[0]));
	tcase_add_test(tc, no_chain_before_signing_off);
	tcase_add_test(tc, signing_off_is_the_first_amendment);
	tcase_add_test(tc, a_change_is_an_amendment);
	tcase_add_test(tc, nothing_changed_adds_nothing);
	tcase_add_test(tc, a_clock_put_back_is_noticed);
	tcase_add_test(tc, other_line_ends);
	tcase_add_loop_test(tc, shows_what_was_forged, 0, sizeof(forgeries) / sizeof(forgeries[0]));
	tcase_add_loop_test(tc, a_missing_amendment, 1, 4);
	tcase_add_test(tc, all_amendments_missing);
	tcase_add_loop_test(tc, every_byte_that_changes_the_meaning, 0, 4);
	tcase_add_test(tc, changed_outside_is_refused_then_adopted);
	tcase_add_test(tc, a_broken_chain_is_not_written);
	tcase_add_test(tc, amendments_in_brackets_are_not_added_to);
	suite_add_tcase(suite, tc);
	return suite_run(suite);
}

#include "tundish/base/match.h"

#include "suite.h"

#include <check.h>
#include <stdlib.h>
#include <string.h>

#define COUNT(array) ((int)(sizeof(array) / sizeof((array)[0])))

static const char *const words[] = {"filling loop", "RPZ", "non-return valve"};
static const struct called loop = {"heating_fill", "Heating filling-point (sealed)", words, 3};
static const struct called bare = {"AUK2", "AUK2 Tap gap", NULL, 0};

static const struct {
	const char *title;
	const struct called *called;
	const char *typed;
	enum match match;
} rows[] = {
        {"its id",                           &loop, "heating_fill",                   MATCH_WHOLE },
        {"its name",                         &loop, "heating filling-point (sealed)", MATCH_WHOLE },
        {"another word for it",              &loop, "Filling Loop",                   MATCH_WHOLE },
        {"the last of its words",            &loop, "non-return valve",               MATCH_WHOLE },
        {"more than its name",               &bare, "AUK2 Tap gaps",                  MATCH_NONE  },
        {"the start of its id",              &loop, "heating_f",                      MATCH_START },
        {"the start of its name",            &loop, "heating f",                      MATCH_START },
        {"nothing typed yet",                &loop, "",                               MATCH_START },
        {"a word of its name",               &loop, "fill",                           MATCH_WORD  },
        {"a word behind a hyphen",           &loop, "poi",                            MATCH_WORD  },
        {"a word behind a bracket",          &loop, "seal",                           MATCH_WORD  },
        {"its name before another word",     &loop, "filling",                        MATCH_WORD  },
        {"a word of what it is also called", &loop, "loop",                           MATCH_ALSO  },
        {"the start of another word",        &loop, "rp",                             MATCH_ALSO  },
        {"within its name",                  &loop, "eating",                         MATCH_WITHIN},
        {"within another word",              &loop, "oop",                            MATCH_WITHIN},
        {"nowhere",                          &loop, "xyz",                            MATCH_NONE  },
        {"no other words",                   &bare, "loop",                           MATCH_NONE  },
};

START_TEST(how_well_it_names)
{
	enum match got = match_called(rows[_i].called, rows[_i].typed, strlen(rows[_i].typed));

	ck_assert_msg(got == rows[_i].match, "%s: %d, expected %d", rows[_i].title, (int)got,
	              (int)rows[_i].match);
}
END_TEST

START_TEST(only_what_is_typed_is_read)
{
	ck_assert_int_eq(match_called(&loop, "looper", 4), MATCH_ALSO);
	ck_assert_int_eq(match_called(&loop, "RPZX", 3), MATCH_WHOLE);
}
END_TEST

int main(void)
{
	Suite *suite = suite_create("match");
	TCase *tcase = tcase_create("called");

	tcase_add_loop_test(tcase, how_well_it_names, 0, COUNT(rows));
	tcase_add_test(tcase, only_what_is_typed_is_read);
	suite_add_tcase(suite, tcase);
	return suite_run(suite);
}

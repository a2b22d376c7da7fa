/*
 * The picture of a verdict: what stands, what could, and the shortfall as the distance between.
 */
#include "../src/walk/pane.h"
#include "suite.h"

#include <check.h>
#include <stdlib.h>
#include <string.h>

static const struct picture {
	const char *title;
	struct range worth, needs, shortfall;
	const char *shows; /* with ASCII, four columns a category */
	int lit_at;        /* 0: nothing is lit */
} pictures[] = {
        {"enough",                                                                   {3, 3}, {3, 3}, {0, 0}, "in fact  ========3   .   . enough",       0 },
        {"more than enough",                                                         {4, 4}, {2, 2}, {0, 0}, "in fact  ====|=======4   . enough",       0 },
        {"nothing, and 5 is needed",
         {1, 1},
         {5, 5},
         {4, 4},
         "in fact  1!!!!!!!!!!!!!!!| short by 4",                                                                                                       10},
        {"2, and 4 is needed",                                                       {2, 2}, {4, 4}, {2, 2}, "in fact  ====2!!!!!!!|   . short by 2",   14},
        {"it could be any of three",
         {2, 4},
         {4, 4},
         {0, 2},
         "in fact  ====2???????4   . short 0 to 2",                                                                                                     14},
        {"3 to 5 could be needed",
         {2, 2},
         {3, 5},
         {1, 3},
         "in fact  ====2!!!|???????| short 1 to 3",                                                                                                     14},
        {"both open",                                                                {1, 3}, {2, 4}, {0, 3}, "in fact  1???|???3???|   . short 0 to 3", 10},
        {"both open and yet enough: what could be needed hangs on what could stand",
         {3, 5},
         {3, 5},
         {0, 0},
         "in fact  ========3-------5 enough",                                                                                                           0 },
};

START_TEST(shortfall_is_a_distance)
{
	const struct picture *row = &pictures[_i];
	struct arena arena = {0};
	struct pane pane = {0};
	struct scale scale = {.label_cols = 9, .step = 4, .ascii = true};

	picture_worth(&pane, &arena, scale, "in fact", row->worth, row->needs, row->shortfall);
	ck_assert_uint_eq(pane.count, 1);
	ck_assert_msg(strcmp(pane.line[0].text, row->shows) == 0, "%s:\n%s\nis\n%s", row->title,
	              row->shows, pane.line[0].text);
	ck_assert_msg(pane.line[0].lit_cols == 0 ? row->lit_at == 0
	                                         : pane.line[0].lit_at == row->lit_at,
	              "%s: lit at %d", row->title, pane.line[0].lit_at);
	arena_finish(&arena);
}
END_TEST

/* No figure, however wide the range, leaves the scale. */
START_TEST(every_figure_has_its_place)
{
	struct arena arena = {0};

	for (unsigned worth = 1; worth <= 5; worth++)
		for (unsigned needs = 1; needs <= 5; needs++) {
			struct scale scale = {.label_cols = 9, .step = 4, .ascii = true};
			struct range is = {(uint8_t)worth, (uint8_t)worth},
			             need = {(uint8_t)needs, (uint8_t)needs};
			uint8_t by = (uint8_t)(needs > worth ? needs - worth : 0);
			struct pane pane = {0};
			size_t shorts = 0;

			picture_worth(&pane, &arena, scale, "", is, need, (struct range){by, by});
			for (const char *at = pane.line[0].text; *at != '\0'; at++)
				shorts += *at == '!' ? 1 : 0;
			/* four columns a category, less the figure's own */
			ck_assert_uint_eq(shorts, by == 0 ? 0 : 4u * by - 1);
			ck_assert_int_eq(pane.line[0].text[9 + 4 * (worth - 1)],
			                 (char)('0' + worth));
		}
	arena_finish(&arena);
}
END_TEST

int main(void)
{
	Suite *suite = suite_create("walk: picture");
	TCase *pictured = tcase_create("picture");

	tcase_add_loop_test(pictured, shortfall_is_a_distance, 0,
	                    sizeof(pictures) / sizeof(pictures[0]));
	tcase_add_test(pictured, every_figure_has_its_place);
	suite_add_tcase(suite, pictured);
	return suite_run(suite);
}

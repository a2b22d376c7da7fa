/* Diagrams against what they stand for: a table with one entry a completion,
 * filled by plain loops. */
#include "tundish/assess/diagram.h"

#include "chance.h"

#include "suite.h"
#include <check.h>
#include <stdlib.h>
#include <string.h>

enum {
	WIDTH = 3,         /* bytes a leaf */
	VARIABLES = 5,     /* at most, in the random tests */
	CELLS = 3,         /* at most, of one variable */
	COMPLETIONS = 243, /* CELLS to the power VARIABLES */
	ROUNDS = 30,
	STEPS = 24, /* functions made in one round */
};

/* The variables of one round, and how their completions are numbered: the first moves fastest. */
struct space {
	unsigned cell_count[VARIABLES];
	size_t variable_count, completions;
};

/* A function twice: as a table of what it is for each completion, and as a diagram. */
struct truth {
	bool table[COMPLETIONS];
	diagram diagram;
};

struct figure {
	unsigned char table[COMPLETIONS][WIDTH];
	diagram diagram;
};

static struct space space_at_random(struct chance *chance)
{
	struct space space = {.variable_count = 1 + chance_of(chance, VARIABLES), .completions = 1};

	for (size_t v = 0; v < space.variable_count; v++) {
		space.cell_count[v] = 1 + (unsigned)chance_of(chance, CELLS);
		space.completions *= space.cell_count[v];
	}
	return space;
}

static unsigned cell_in(const struct space *space, size_t completion, size_t variable)
{
	for (size_t v = 0; v < variable; v++)
		completion /= space->cell_count[v];
	return (unsigned)(completion % space->cell_count[variable]);
}

/* The completion that is the same but for one variable's cell. */
static size_t with_cell(const struct space *space, size_t completion, size_t variable,
                        unsigned cell)
{
	size_t step = 1;

	for (size_t v = 0; v < variable; v++)
		step *= space->cell_count[v];
	return completion - cell_in(space, completion, variable) * step + cell * step;
}

static bool within(const struct space *space, size_t completion, const cells *may)
{
	for (size_t v = 0; v < space->variable_count; v++)
		if (!(may[v] >> cell_in(space, completion, v) & 1))
			return false;
	return true;
}

static cells all_cells(unsigned count)
{
	return count == CELLS_MOST ? ~(cells)0 : ((cells)1 << count) - 1;
}

/* The leaf of one completion, found by narrowing to it. */
static diagram leaf_at(struct diagram_store *store, const struct space *space, diagram root,
                       size_t completion)
{
	diagram leaf[1];
	struct narrowed narrowed = {.leaf = leaf, .leaf_room = 1};
	cells may[VARIABLES];

	for (size_t v = 0; v < space->variable_count; v++)
		may[v] = (cells)1 << cell_in(space, completion, v);
	ck_assert(diagram_narrow(store, root, may, &narrowed));
	ck_assert_uint_eq(narrowed.leaf_count, 1);
	ck_assert_msg(narrowed.live == 0, "nothing is open, so nothing can move");
	return leaf[0];
}

/* -- functions at random ------------------------------------------------------------------- */

static struct truth *truth_of_test(struct diagram_store *store, const struct space *space,
                                   struct chance *chance)
{
	struct truth *out = calloc(1, sizeof *out);
	size_t v = chance_of(chance, space->variable_count);
	cells holds = chance_bits(chance) & all_cells(space->cell_count[v]);

	for (size_t i = 0; i < space->completions; i++)
		out->table[i] = holds >> cell_in(space, i, v) & 1;
	out->diagram = diagram_test(store, (unsigned)v, holds);
	return out;
}

static struct truth *truth_of_two(struct diagram_store *store, const struct space *space,
                                  struct chance *chance, const struct truth *a,
                                  const struct truth *b)
{
	struct truth *out = calloc(1, sizeof *out);
	size_t form = chance_of(chance, 4);

	for (size_t i = 0; i < space->completions; i++) {
		bool x = a->table[i], y = b->table[i];

		out->table[i] = form == 0 ? x && y : form == 1 ? x || y : form == 2 ? !x : x != y;
	}
	if (form == 0)
		out->diagram = diagram_and(store, a->diagram, b->diagram);
	else if (form == 1)
		out->diagram = diagram_or(store, a->diagram, b->diagram);
	else if (form == 2)
		out->diagram = diagram_not(store, a->diagram);
	else
		out->diagram = diagram_choose(store, a->diagram, diagram_not(store, b->diagram),
		                              b->diagram);
	return out;
}

static struct figure *figure_of_leaf(struct diagram_store *store, const struct space *space,
                                     struct chance *chance)
{
	struct figure *out = calloc(1, sizeof *out);
	unsigned char leaf[WIDTH];

	for (size_t b = 0; b < WIDTH; b++)
		leaf[b] = (unsigned char)chance_of(chance, 3);
	for (size_t i = 0; i < space->completions; i++)
		memcpy(out->table[i], leaf, WIDTH);
	out->diagram = diagram_leaf(store, leaf);
	return out;
}

static struct figure *figure_of_two(struct diagram_store *store, const struct space *space,
                                    struct chance *chance, const struct truth *if_true,
                                    const struct figure *a, const struct figure *b)
{
	struct figure *out = calloc(1, sizeof *out);
	size_t form = chance_of(chance, 3);

	for (size_t i = 0; i < space->completions; i++)
		for (size_t byte = 0; byte < WIDTH; byte++) {
			unsigned char x = a->table[i][byte], y = b->table[i][byte];

			out->table[i][byte] = form == 0   ? (x > y ? x : y)
			                      : form == 1 ? (x < y ? x : y)
			                                  : (if_true->table[i] ? x : y);
		}
	out->diagram = form == 0 ? diagram_most(store, a->diagram, b->diagram)
	               : form == 1
	                       ? diagram_least(store, a->diagram, b->diagram)
	                       : diagram_choose(store, if_true->diagram, a->diagram, b->diagram);
	return out;
}

/* One round: a store, and functions made of earlier ones. */
struct round {
	struct space space;
	struct diagram_store *store;
	struct truth *truth[STEPS];
	struct figure *figure[STEPS];
};

static void round_start(struct round *round, struct chance *chance)
{
	round->space = space_at_random(chance);
	round->store =
	        diagram_store_create(WIDTH, round->space.cell_count, round->space.variable_count);
	ck_assert_ptr_nonnull(round->store);
	for (size_t i = 0; i < STEPS; i++)
		round->truth[i] = i < STEPS / 3 ? truth_of_test(round->store, &round->space, chance)
		                                : truth_of_two(round->store, &round->space, chance,
		                                               round->truth[chance_of(chance, i)],
		                                               round->truth[chance_of(chance, i)]);
	for (size_t i = 0; i < STEPS; i++)
		round->figure[i] = i < STEPS / 4
		                           ? figure_of_leaf(round->store, &round->space, chance)
		                           : figure_of_two(round->store, &round->space, chance,
		                                           round->truth[chance_of(chance, STEPS)],
		                                           round->figure[chance_of(chance, i)],
		                                           round->figure[chance_of(chance, i)]);
}

static void round_end(struct round *round)
{
	for (size_t i = 0; i < STEPS; i++) {
		free(round->truth[i]);
		free(round->figure[i]);
	}
	diagram_store_destroy(round->store);
}

/* -- what is built is what was meant --------------------------------------------------------- */

START_TEST(truths_are_their_tables)
{
	struct chance chance = {(uint64_t)_i};
	struct round round;

	round_start(&round, &chance);
	for (size_t t = 0; t < STEPS; t++)
		for (size_t i = 0; i < round.space.completions; i++) {
			diagram leaf =
			        leaf_at(round.store, &round.space, round.truth[t]->diagram, i);

			ck_assert_msg(leaf == diagram_truth(round.truth[t]->table[i]),
			              "round %d, truth %zu, completion %zu", _i, t, i);
		}
	round_end(&round);
}
END_TEST

START_TEST(figures_are_their_tables)
{
	struct chance chance = {(uint64_t)_i + 1000};
	struct round round;

	round_start(&round, &chance);
	for (size_t f = 0; f < STEPS; f++)
		for (size_t i = 0; i < round.space.completions; i++) {
			diagram leaf =
			        leaf_at(round.store, &round.space, round.figure[f]->diagram, i);

			ck_assert(diagram_is_leaf(leaf));
			ck_assert_msg(memcmp(diagram_leaf_bytes(round.store, leaf),
			                     round.figure[f]->table[i], WIDTH) == 0,
			              "round %d, figure %zu, completion %zu", _i, f, i);
		}
	round_end(&round);
}
END_TEST

static unsigned char byte_at(const struct round *round, diagram d, size_t completion, size_t byte)
{
	return diagram_leaf_bytes(round->store,
	                          leaf_at(round->store, &round->space, d, completion))[byte];
}

/* What was worked out for one operation must not be taken for another's. */
START_TEST(all_operations_on_the_same_two)
{
	struct chance chance = {(uint64_t)_i + 1500};
	struct round round;

	round_start(&round, &chance);
	for (size_t n = 1; n < STEPS; n++) {
		const struct truth *p = round.truth[n], *q = round.truth[n - 1];
		const struct figure *a = round.figure[n], *b = round.figure[n - 1];
		diagram both = diagram_and(round.store, p->diagram, q->diagram);
		diagram either = diagram_or(round.store, p->diagram, q->diagram);
		diagram most = diagram_most(round.store, a->diagram, b->diagram);
		diagram least = diagram_least(round.store, a->diagram, b->diagram);

		for (size_t i = 0; i < round.space.completions; i++) {
			unsigned char x = a->table[i][0], y = b->table[i][0];

			ck_assert(leaf_at(round.store, &round.space, both, i) ==
			          diagram_truth(p->table[i] && q->table[i]));
			ck_assert(leaf_at(round.store, &round.space, either, i) ==
			          diagram_truth(p->table[i] || q->table[i]));
			ck_assert_uint_eq(byte_at(&round, most, i, 0), x > y ? x : y);
			ck_assert_uint_eq(byte_at(&round, least, i, 0), x < y ? x : y);
		}
	}
	round_end(&round);
}
END_TEST

/* All that is claimed of rows that never decide hangs on this. */
START_TEST(the_same_function_is_the_same_diagram)
{
	struct chance chance = {(uint64_t)_i + 2000};
	struct round round;

	round_start(&round, &chance);
	for (size_t a = 0; a < STEPS; a++)
		for (size_t b = 0; b < a; b++) {
			bool truths = true, figures = true;

			for (size_t i = 0; i < round.space.completions; i++) {
				truths &= round.truth[a]->table[i] == round.truth[b]->table[i];
				figures &= memcmp(round.figure[a]->table[i],
				                  round.figure[b]->table[i], WIDTH) == 0;
			}
			ck_assert_msg(truths ==
			                      (round.truth[a]->diagram == round.truth[b]->diagram),
			              "round %d, truths %zu and %zu", _i, a, b);
			ck_assert_msg(
			        figures == (round.figure[a]->diagram == round.figure[b]->diagram),
			        "round %d, figures %zu and %zu", _i, a, b);
		}
	round_end(&round);
}
END_TEST

/* -- narrowing ----------------------------------------------------------------------------- */

static void may_at_random(const struct space *space, struct chance *chance, cells *may)
{
	for (size_t v = 0; v < space->variable_count; v++) {
		cells all = all_cells(space->cell_count[v]);

		do {
			may[v] = chance_in(chance, 1, 3) ? all : chance_bits(chance) & all;
		} while (may[v] == 0);
	}
}

/* A variable can move a function if two completions that differ only in
 * it give different leaves. */
static bool moves(const struct space *space, const struct figure *figure, const cells *may,
                  size_t variable)
{
	for (size_t i = 0; i < space->completions; i++) {
		if (!within(space, i, may))
			continue;
		for (unsigned cell = 0; cell < space->cell_count[variable]; cell++) {
			size_t other = with_cell(space, i, variable, cell);

			if (within(space, other, may) &&
			    memcmp(figure->table[i], figure->table[other], WIDTH) != 0)
				return true;
		}
	}
	return false;
}

/* How often the bytes are among the completions within @p may: 0 or not. */
static bool reached(const struct space *space, const struct figure *figure, const cells *may,
                    const unsigned char *bytes)
{
	for (size_t i = 0; i < space->completions; i++)
		if (within(space, i, may) && memcmp(figure->table[i], bytes, WIDTH) == 0)
			return true;
	return false;
}

static size_t different_leaves(const struct space *space, const struct figure *figure,
                               const cells *may)
{
	size_t count = 0;

	for (size_t i = 0; i < space->completions; i++) {
		bool seen = !within(space, i, may);

		for (size_t j = 0; j < i && !seen; j++)
			seen = within(space, j, may) &&
			       memcmp(figure->table[i], figure->table[j], WIDTH) == 0;
		count += !seen;
	}
	return count;
}

static void check_leaves(const struct round *round, const struct figure *figure, const cells *may,
                         const struct narrowed *narrowed)
{
	for (size_t i = 0; i < narrowed->leaf_count; i++) {
		ck_assert_msg(reached(&round->space, figure, may,
		                      diagram_leaf_bytes(round->store, narrowed->leaf[i])),
		              "a leaf that no completion gives");
		for (size_t j = 0; j < i; j++)
			ck_assert_msg(narrowed->leaf[i] != narrowed->leaf[j], "a leaf twice");
	}
}

static void check_live(const struct round *round, const struct figure *figure, const cells *may,
                       uint64_t live)
{
	for (size_t v = 0; v < VARIABLES_MOST; v++)
		ck_assert_msg((live >> v & 1) == (v < round->space.variable_count &&
		                                  moves(&round->space, figure, may, v)),
		              "variable %zu", v);
}

START_TEST(narrowing_gives_exactly_the_leaves_and_the_live)
{
	struct chance chance = {(uint64_t)_i + 3000};
	struct round round;
	diagram leaf[COMPLETIONS];
	cells may[VARIABLES];

	round_start(&round, &chance);
	if (_i % 2)
		diagram_store_settled(round.store);
	for (size_t n = 0; n < 2 * STEPS; n++) {
		struct narrowed narrowed = {.leaf = leaf, .leaf_room = COMPLETIONS};
		const struct figure *figure = round.figure[n % STEPS];

		may_at_random(&round.space, &chance, may);
		ck_assert(diagram_narrow(round.store, figure->diagram, may, &narrowed));
		ck_assert(!narrowed.overflow);
		ck_assert_uint_eq(narrowed.leaf_count, different_leaves(&round.space, figure, may));
		check_leaves(&round, figure, may, &narrowed);
		check_live(&round, figure, may, narrowed.live);
	}
	round_end(&round);
}
END_TEST

START_TEST(too_little_room_is_said_and_the_live_stay_right)
{
	struct chance chance = {(uint64_t)_i + 4000};
	struct round round;
	diagram leaf[3];
	cells may[VARIABLES];

	round_start(&round, &chance);
	for (size_t n = 0; n < STEPS; n++) {
		struct narrowed narrowed = {.leaf = leaf, .leaf_room = 1 + n % 3};
		size_t truly;

		may_at_random(&round.space, &chance, may);
		truly = different_leaves(&round.space, round.figure[n], may);
		ck_assert(diagram_narrow(round.store, round.figure[n]->diagram, may, &narrowed));
		ck_assert_int_eq(narrowed.overflow, truly > narrowed.leaf_room);
		ck_assert_uint_eq(narrowed.leaf_count,
		                  truly > narrowed.leaf_room ? narrowed.leaf_room : truly);
		check_leaves(&round, round.figure[n], may, &narrowed);
		check_live(&round, round.figure[n], may, narrowed.live);
	}
	round_end(&round);
}
END_TEST

START_TEST(a_truth_holds_never_maybe_or_always)
{
	struct chance chance = {(uint64_t)_i + 5000};
	struct round round;
	cells may[VARIABLES];

	round_start(&round, &chance);
	for (size_t n = 0; n < 2 * STEPS; n++) {
		const struct truth *truth = round.truth[n % STEPS];
		bool yes = false, no = false;

		may_at_random(&round.space, &chance, may);
		for (size_t i = 0; i < round.space.completions; i++) {
			yes = yes || (within(&round.space, i, may) && truth->table[i]);
			no = no || (within(&round.space, i, may) && !truth->table[i]);
		}
		ck_assert_int_eq(diagram_holds(round.store, truth->diagram, may),
		                 yes && no ? HOLDS_MAYBE
		                 : yes     ? HOLDS_ALWAYS
		                           : HOLDS_NEVER);
	}
	round_end(&round);
}
END_TEST

/* -- the ends of what there can be ------------------------------------------------------------- */

START_TEST(sixty_four_cells_and_sixty_four_variables)
{
	unsigned cell_count[VARIABLES_MOST];
	cells may[VARIABLES_MOST];
	diagram leaf[2];
	struct narrowed narrowed = {.leaf = leaf, .leaf_room = 2};
	struct diagram_store *store;
	diagram d;

	for (size_t v = 0; v < VARIABLES_MOST; v++) {
		cell_count[v] = CELLS_MOST;
		may[v] = ~(cells)0;
	}
	store = diagram_store_create(1, cell_count, VARIABLES_MOST);
	ck_assert_ptr_nonnull(store);
	d = diagram_and(store, diagram_test(store, 63, (cells)1 << 63),
	                diagram_test(store, 0, (cells)1 << 63));
	ck_assert(diagram_narrow(store, d, may, &narrowed));
	ck_assert_uint_eq(narrowed.leaf_count, 2);
	ck_assert_msg(narrowed.live == ((uint64_t)1 << 63 | 1), "first and last variable");
	may[0] = ~((cells)1 << 63);
	ck_assert(diagram_narrow(store, d, may, &narrowed));
	ck_assert_uint_eq(narrowed.leaf_count, 1);
	ck_assert(leaf[0] == diagram_truth(false) && narrowed.live == 0);
	may[0] = may[63] = (cells)1 << 63;
	ck_assert(diagram_narrow(store, d, may, &narrowed));
	ck_assert(narrowed.leaf_count == 1 && leaf[0] == diagram_truth(true));
	ck_assert(diagram_test(store, 5, ~(cells)0) == diagram_truth(true));
	ck_assert(diagram_test(store, 5, 0) == diagram_truth(false));
	diagram_store_destroy(store);
}
END_TEST

/* x0..x31 above y0..y31: "each x is its y" has to remember all x on the way down. */
START_TEST(the_limit_of_nodes_holds_and_sticks)
{
	unsigned cell_count[VARIABLES_MOST];
	struct diagram_store *store;
	diagram same = diagram_truth(true), first;
	unsigned char one = 1, two = 2;
	unsigned pairs = 0;

	for (size_t v = 0; v < VARIABLES_MOST; v++)
		cell_count[v] = 2;
	store = diagram_store_create(1, cell_count, VARIABLES_MOST);
	ck_assert_ptr_nonnull(store);
	first = diagram_test(store, 0, 2);
	for (; pairs < 32 && same != DIAGRAM_NONE; pairs++) {
		diagram x = diagram_test(store, pairs, 2), y = diagram_test(store, 32 + pairs, 2);

		same = diagram_and(store, same, diagram_choose(store, x, y, diagram_not(store, y)));
	}
	ck_assert_msg(same == DIAGRAM_NONE, "2^32 nodes were made");
	/* after n pairs the function has 3 x 2^n - 3 nodes; making it takes more, not tenfold */
	ck_assert_msg(pairs > 11, "gave up at %u pairs", pairs);
	ck_assert_uint_ge(diagram_store_nodes(store), DIAGRAM_NODES_MOST);
	ck_assert_uint_le(diagram_store_nodes(store), DIAGRAM_NODES_MOST + 1);
	ck_assert_msg(diagram_test(store, 63, 1) == DIAGRAM_NONE, "a new node after that");
	ck_assert_msg(diagram_choose(store, first, diagram_leaf(store, &one),
	                             diagram_leaf(store, &two)) == DIAGRAM_NONE,
	              "a new node after that");
	ck_assert_msg(diagram_test(store, 0, 2) == first, "a node that there is");
	diagram_store_destroy(store);
}
END_TEST

START_TEST(none_is_passed_on)
{
	unsigned cell_count[] = {2, 2};
	struct diagram_store *store = diagram_store_create(1, cell_count, 2);
	unsigned char one = 1, two = 2;
	diagram none = DIAGRAM_NONE, truth, a, b;

	ck_assert_ptr_nonnull(store);
	truth = diagram_test(store, 0, 1);
	a = diagram_leaf(store, &one);
	b = diagram_leaf(store, &two);
	ck_assert(diagram_not(store, none) == none);
	ck_assert(diagram_and(store, none, truth) == none);
	ck_assert(diagram_and(store, diagram_truth(false), none) == none);
	ck_assert(diagram_or(store, truth, none) == none);
	ck_assert(diagram_or(store, diagram_truth(true), none) == none);
	ck_assert(diagram_choose(store, none, a, b) == none);
	ck_assert(diagram_choose(store, truth, none, b) == none);
	ck_assert(diagram_choose(store, diagram_truth(true), a, none) == none);
	ck_assert(diagram_most(store, none, b) == none);
	ck_assert(diagram_least(store, a, none) == none);
	diagram_store_destroy(store);
	diagram_store_destroy(NULL);
}
END_TEST

static Suite *suite(void)
{
	Suite *s = suite_create("diagram");
	TCase *made = tcase_create("made");
	TCase *narrowed = tcase_create("narrowed");
	TCase *ends = tcase_create("ends");

	tcase_add_loop_test(made, truths_are_their_tables, 0, ROUNDS);
	tcase_add_loop_test(made, figures_are_their_tables, 0, ROUNDS);
	tcase_add_loop_test(made, all_operations_on_the_same_two, 0, ROUNDS / 2);
	tcase_add_loop_test(made, the_same_function_is_the_same_diagram, 0, ROUNDS);
	tcase_add_loop_test(narrowed, narrowing_gives_exactly_the_leaves_and_the_live, 0, ROUNDS);
	tcase_add_loop_test(narrowed, too_little_room_is_said_and_the_live_stay_right, 0, ROUNDS);
	tcase_add_loop_test(narrowed, a_truth_holds_never_maybe_or_always, 0, ROUNDS);
	tcase_set_timeout(made, 30);
	tcase_set_timeout(narrowed, 30);
	tcase_add_test(ends, sixty_four_cells_and_sixty_four_variables);
	tcase_add_test(ends, the_limit_of_nodes_holds_and_sticks);
	tcase_add_test(ends, none_is_passed_on);
	suite_add_tcase(s, made);
	suite_add_tcase(s, narrowed);
	suite_add_tcase(s, ends);
	return s;
}

int main(void)
{
	return suite_run(suite());
}

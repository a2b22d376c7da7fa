/* Of one fluid: whether it comes back here and of which category it is, and what could bring it. docs/quiz.md has the tables. */
#include "make.h"

/* By category: 1 is that it does not come back here. */
static const char *const category_ids[CATEGORY_MOST + 1] = {NULL, "no", "2", "3", "4", "5"};
static const char *const category_texts[CATEGORY_MOST + 1] = {
        NULL,
        "It does not come back here",
        "Fluid category 2",
        "Fluid category 3",
        "Fluid category 4",
        "Fluid category 5",
};

static enum grade grade_of_category(struct range right, unsigned said)
{
	if (said < right.most)
		return GRADE_DANGEROUS;
	return said == right.most && said == right.least ? GRADE_RIGHT : GRADE_CAUTIOUS;
}

static void category_choices(struct making *making, struct range right)
{
	for (unsigned c = CATEGORY_LEAST; c <= CATEGORY_MOST; c++)
		making_choice(making, category_ids[c], category_texts[c],
		              grade_of_category(right, c));
	making_choice(making, CANNOT_SAY, "Cannot be said yet",
	              right.least < right.most ? GRADE_RIGHT : GRADE_WRONG);
}

static void make_category(struct making *making, const struct assessment *of,
                          const struct fluid_verdict *verdict, const struct fluid *fluid)
{
	struct task task = making_begin(making, FAMILY_CATEGORY, of->point);

	task.id = arena_print(making->arena, "%s/category/%s", of->point->ref, fluid->id);
	task.asks = arena_print(making->arena,
	                        "Can this come back here, and of which fluid category is it: %s?",
	                        fluid->name);
	task.in_order = true;
	task.topic = making->book->kind[of->point->of].id;
	category_choices(making, verdict->category);
	reasons_of_fluid(making, of, verdict->fluid, false);
	making_keep(making, &task);
}

static enum grade grade_of_mechanism(unsigned right, unsigned said)
{
	if (said == right)
		return GRADE_RIGHT;
	return (said & right) == right ? GRADE_CAUTIOUS : GRADE_DANGEROUS;
}

static void make_mechanism(struct making *making, const struct assessment *of,
                           const struct fluid_verdict *verdict, const struct fluid *fluid)
{
	static const struct {
		unsigned by;
		const char *id, *text;
	} choices[] = {
	        {1 << BACK_SIPHONAGE,                        "back_siphonage", "Back siphonage"   },
	        {1 << BACK_PRESSURE,                         "back_pressure",  "Back pressure"    },
	        {(1 << BACK_PRESSURE) | 1 << BACK_SIPHONAGE, "both",           "Either of the two"},
	};
	struct task task = making_begin(making, FAMILY_MECHANISM, of->point);

	task.id = arena_print(making->arena, "%s/mechanism/%s", of->point->ref, fluid->id);
	task.asks = arena_print(making->arena, "What could bring this back: %s?", fluid->name);
	task.in_order = true;
	task.topic = making->book->kind[of->point->of].id;
	for (size_t i = 0; i < sizeof choices / sizeof *choices; i++)
		making_choice(making, choices[i].id, choices[i].text,
		              grade_of_mechanism(verdict->by, choices[i].by));
	reasons_of_fluid(making, of, verdict->fluid, true);
	making_keep(making, &task);
}

void make_of_fluids(struct making *making, const struct assessment *of)
{
	const struct kind *kind = &making->book->kind[of->point->of];

	for (size_t i = 0; making_wants(making, FAMILY_CATEGORY) && i < of->fluid_count; i++)
		if (of->fluid[i].fluid < kind->fluid_count)
			make_category(making, of, &of->fluid[i], &kind->fluid[of->fluid[i].fluid]);
	for (size_t i = 0; making_wants(making, FAMILY_MECHANISM) && i < of->fluid_count; i++)
		if (of->fluid[i].fluid < kind->fluid_count &&
		    of->fluid[i].category.least > CATEGORY_LEAST)
			make_mechanism(making, of, &of->fluid[i], &kind->fluid[of->fluid[i].fluid]);
}

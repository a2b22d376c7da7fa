/* Of one fluid: whether it comes back here and of which category it is, and what could bring it. docs/quiz.md has the tables. */
#include "make.h"

#include <string.h>

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

static bool another_of_that_name(const struct kind *kind, unsigned fluid)
{
	for (unsigned f = 0; f < kind->fluid_count; f++)
		if (f != fluid && strcmp(kind->fluid[f].name, kind->fluid[fluid].name) == 0)
			return true;
	return false;
}

/** The fluid in words; where the kind has two of that name, with the inlets that the rows name for this one. */
static const char *fluid_words(struct making *making, const struct kind *kind, unsigned fluid)
{
	const char *words = kind->fluid[fluid].name, *joint = " (";
	unsigned inlets = 0;

	if (!another_of_that_name(kind, fluid))
		return words;
	for (size_t r = 0; r < kind->row_count; r++)
		if (kind->row[r].fluid == (int)fluid && kind->row[r].category > CATEGORY_LEAST)
			inlets |= kind->row[r].inlets;
	for (unsigned i = 0; words && i < kind->inlet_count; i++) {
		if (!((inlets >> i) & 1))
			continue;
		words = arena_print(making->arena, "%s%s%s", words, joint, kind->inlet[i].name);
		joint = ", ";
	}
	return words && inlets ? arena_print(making->arena, "%s)", words) : words;
}

static void make_category(struct making *making, const struct assessment *of,
                          const struct fluid_verdict *verdict)
{
	const struct kind *kind = &making->book->kind[of->point->of];
	struct task task = making_begin(making, FAMILY_CATEGORY, of->point);

	task.id = arena_print(making->arena, "%s/category/%s", of->point->ref,
	                      kind->fluid[verdict->fluid].id);
	task.asks = arena_print(making->arena,
	                        "Can this come back here, and of which fluid category is it: %s?",
	                        fluid_words(making, kind, verdict->fluid));
	task.in_order = true;
	task.topic = kind->id;
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

/* Asked of what does not come back, too: that it is asked tells nothing. */
static void make_mechanism(struct making *making, const struct assessment *of,
                           const struct fluid_verdict *verdict)
{
	const struct kind *kind = &making->book->kind[of->point->of];
	static const struct {
		unsigned by;
		const char *id, *text;
	} choices[] = {
	        {1 << BACK_SIPHONAGE,                        "back_siphonage", "Back siphonage"                     },
	        {1 << BACK_PRESSURE,                         "back_pressure",  "Back pressure"                      },
	        {(1 << BACK_PRESSURE) | 1 << BACK_SIPHONAGE, "both",           "Either of the two"                  },
	        {0,	                                  "no",             "Nothing: it does not come back here"},
	};
	struct task task = making_begin(making, FAMILY_MECHANISM, of->point);

	task.id = arena_print(making->arena, "%s/mechanism/%s", of->point->ref,
	                      kind->fluid[verdict->fluid].id);
	task.asks = arena_print(making->arena, "What could bring this back: %s?",
	                        fluid_words(making, kind, verdict->fluid));
	task.in_order = true;
	task.topic = kind->id;
	for (size_t i = 0; i < sizeof choices / sizeof *choices; i++)
		making_choice(making, choices[i].id, choices[i].text,
		              grade_of_mechanism(verdict->by, choices[i].by));
	reasons_of_fluid(making, of, verdict->fluid, verdict->category.most > CATEGORY_LEAST);
	making_keep(making, &task);
}

void make_of_fluids(struct making *making, const struct assessment *of)
{
	const struct kind *kind = &making->book->kind[of->point->of];

	for (size_t i = 0; making_wants(making, FAMILY_CATEGORY) && i < of->fluid_count; i++)
		if (of->fluid[i].fluid < kind->fluid_count)
			make_category(making, of, &of->fluid[i]);
	for (size_t i = 0; making_wants(making, FAMILY_MECHANISM) && i < of->fluid_count; i++)
		if (of->fluid[i].fluid < kind->fluid_count)
			make_mechanism(making, of, &of->fluid[i]);
}

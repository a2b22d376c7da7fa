/* Any bytes as a learner's log: no crash, every line is an answer, passed over or torn, and what is read is whole. */
#include "fuzz.h"

#include "tundish/store/reviews.h"

#include <string.h>

static void promise_review(const struct review *review, size_t size)
{
	const char *const texts[] = {review->at,      review->learner,  review->attempt,
	                             review->with,    review->rulebook, review->on,
	                             review->item,    review->family,   review->given,
	                             review->correct, review->scheduler};

	for (size_t i = 0; i < sizeof(texts) / sizeof(texts[0]); i++)
		PROMISE(texts[i] && strlen(texts[i]) <= size);
	PROMISE(strlen(review->at) == 20);
	PROMISE(review->grade > GRADE_NONE && review->grade < GRADE_COUNT);
	PROMISE(review->level <= 4 && review->pass_percent <= 100);
	for (size_t i = 0; i < review->row_count; i++)
		PROMISE(review->row[i]);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
	static struct arena arena;
	const char *text = (const char *)data, *last = text + size;
	struct reviews all, whole;
	struct err err = {0};
	size_t lines = 0;

	arena_reset(&arena);
	PROMISE(reviews_text(text, size, &arena, &all, &err));
	for (size_t i = 0; i < size; i++)
		lines += data[i] == '\n';
	PROMISE(all.count + all.replaced + all.passed_over <= lines + 1);
	PROMISE(all.newer <= all.passed_over && (all.first_line > 0) == (all.passed_over > 0));
	for (size_t i = 0; i < all.count; i++)
		promise_review(&all.item[i], size);
	/* Without the torn line the same is read. */
	while (last > text && last[-1] != '\n')
		last--;
	if (all.torn == 0)
		return 0;
	PROMISE(all.torn == (size_t)(text + size - last));
	PROMISE(reviews_text(text, (size_t)(last - text), &arena, &whole, &err));
	PROMISE(whole.count == all.count && whole.torn == 0);
	return 0;
}

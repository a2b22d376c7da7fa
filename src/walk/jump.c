/*
 * From one place of the house to another: the next verdict of a kind, the next group, a room.
 */
#include "inside.h"

static bool is_wanted(struct walk *walk, struct house_row *row, enum request request)
{
	if (row->form != ROW_POINT)
		return false;
	verdict_row(walk, row);
	if (request == REQUEST_NEXT_SHORT)
		return row_is_short_or_urgent(row);
	return row->verdict == VERDICT_UNPROVEN || row->verdict == VERDICT_NOT_SEEN;
}

/* Round the end, in the view that is shown: another row of the house, or another form. */
void jump_verdict(struct walk *walk, enum request request)
{
	struct house_list *house = &walk->house;

	if (walk->view == VIEW_FORM)
		house_focus(walk, walk->form.item);
	for (size_t i = 1; i <= house->count; i++) {
		size_t at = (house->focus + i) % house->count;

		if (!is_wanted(walk, house_at(house, at), request))
			continue;
		house->focus = at;
		if (walk->view == VIEW_FORM) {
			show_form(walk, house_at(house, at)->item);
			form_first_ask(walk);
		}
		return;
	}
	say(walk, request == REQUEST_NEXT_SHORT ? "Nothing is short or urgent."
	                                        : "Nothing is unproven or not seen.");
}

static void jump_row(struct walk *walk, int step)
{
	struct house_list *house = &walk->house;
	long at = (long)house->focus + step;

	while (at >= 0 && at < (long)house->count && house_at(house, (size_t)at)->form == ROW_POINT)
		at += step;
	if (at >= 0 && at < (long)house->count)
		house->focus = (size_t)at;
}

/* The first line below a head. */
static bool begins_group(const struct item_form *form, size_t at)
{
	if (!line_can_focus(&form->line[at]))
		return false;
	while (at > 0 && !line_can_focus(&form->line[at - 1]) &&
	       form->line[at - 1].form != LINE_HEAD)
		at--;
	return at == 0 || form->line[at - 1].form == LINE_HEAD;
}

void jump_group(struct walk *walk, int step)
{
	struct item_form *form = &walk->form;

	if (walk->view == VIEW_HOUSE) {
		jump_row(walk, step);
		return;
	}
	for (long at = (long)form->focus + step; at >= 0 && at < (long)form->count; at += step) {
		if (begins_group(form, (size_t)at)) {
			form->focus = (size_t)at;
			return;
		}
	}
}

void jump_room(struct walk *walk, size_t number)
{
	struct house_list *house = &walk->house;

	if (number <= house->room_count)
		house->focus = house->first[number - 1];
	else
		say(walk, "There is no room of that number.");
}

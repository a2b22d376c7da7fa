/* Where things stand: libyaml's marks count characters, all else counts bytes. */
#include "events.h"

#include "tundish/base/text.h"

static bool continues(const struct events *events, size_t at)
{
	return at < events->source->length &&
	       ((unsigned char)events->source->text[at] & 0xC0) == 0x80;
}

/* Events come in order, so one cursor walks the text once. */
uint32_t events_byte(struct events *events, size_t index)
{
	const struct source *source = events->source;

	if (events->ascii)
		return (uint32_t)index;
	while (events->index < index && events->at < source->length) {
		size_t ahead = index - events->index, left = source->length - events->at;
		size_t plain = text_ascii(source->text + events->at, ahead < left ? ahead : left);

		events->at += plain;
		events->index += plain;
		if (plain > 0)
			continue;
		do
			events->at++;
		while (continues(events, events->at));
		events->index++;
	}
	while (events->index > index && events->at > 0) {
		do
			events->at--;
		while (events->at > 0 && continues(events, events->at));
		events->index--;
	}
	return (uint32_t)events->at;
}

struct span events_mark_span(struct events *events, const yaml_mark_t *start,
                             const yaml_mark_t *end)
{
	uint32_t at = events_byte(events, start->index);

	return (struct span){at, events_byte(events, end->index) - at};
}

struct span events_span_from(const struct events *events, uint32_t at)
{
	return (struct span){at, events->read_end > at ? events->read_end - at : 0};
}

/* Private to src/house: all that is at hand while one point is assessed. Lives in the judge's scratch arena. */
#ifndef TUNDISH_HOUSE_WORK_H
#define TUNDISH_HOUSE_WORK_H

#include "tundish/house/verdict.h"

#include "outcomes.h"
#include "reading.h"
#include "tree.h"

enum {
	HOLDERS_MOST = 64,    /* inlets and branches with protection on one way */
	CLASSES_MOST = 32,    /* ways of one point that pass different protection */
	DEVICES_MOST = 256,   /* protections on all ways of one point */
	PASSED_MOST = 100000, /* pipes passed on all ways of one point */
	STATES_MOST = 4096,   /* what all that stands on them can be worth together */
	STEPS_MOST = 4000000, /* such states, each with each of the needs that can be */
};

/*
 * Where protection stands on the way from an inlet up to the main: inlets and branches, nearest first. Ways that pass the same
 * holders are one class, and are worth the same.
 */
struct way {
	const struct item *holder[HOLDERS_MOST];
	size_t holder_count;
	bool unseen; /* whether anything is fitted could not be seen somewhere on it */
};

/* One place that fluids from one inlet could get to; the worst of its ways counts. */
struct destination {
	unsigned inlet;
	const struct item *inlet_item;
	const char *to;
	bool to_part;
	uint32_t classes; /* bit c: way c leads there */
	bool counts;      /* something could need it */
	bool again;       /* one before it has the same inlet and ways */
};

/* Where one figure of the kind's leaf meets one place that it could get to. */
struct slot {
	size_t destination, needs_at, path;
};

/* One thing whose worth counts on some ways. */
enum device_form {
	DEVICE_READ,   /* a protection of a known type */
	DEVICE_UNSAID, /* what is fitted, or its type, was not answered: anything from 1 to 5 */
	DEVICE_UNSEEN, /* nobody could see whether anything is fitted: the same in fact, nothing on paper */
};

struct device {
	enum device_form form;
	const struct item *item; /* the protection; or the inlet that says nothing */
	struct reading reading;
	uint32_t classes;
	bool pairs;              /* stands straight after the device before it, which its series names */
};

/* What one device, or several in combination, are worth: eight figures in one word, as subject.h orders them. */
struct worth {
	uint64_t figures;
	uint8_t series; /* SERIES_NONE, or as in subject.h */
};

struct asks {
	struct ask *item;
	size_t count, room;
};

struct work {
	struct judge *judge;
	const struct rulebook *book;
	const struct tree *tree;
	struct arena *arena;
	const struct item *point;
	const struct kind *kind;
	struct assessment *out;
	struct reading *kind_reading;
	size_t part;                 /* tree_part of the point */
	struct feeds feeds[INLETS_MOST];
	const struct item *inlet[INLETS_MOST];  /* the survey's; NULL: not there yet */
	const struct item *unsaid[INLETS_MOST]; /* stands for one that is not there yet */
	const struct item **stand_in;           /* all of them, of points on the way too */
	size_t stand_in_count, stand_in_room;
	int decided;                 /* the undertaker's category, 0: none */

	/* of the combination of feeds at hand */
	size_t feed[INLETS_MOST];
	struct way *way;
	size_t way_count, way_room;
	struct destination *destination;
	size_t destination_count, destination_room;
	struct device *device;
	size_t device_count, device_room;
	struct slot *slot;           /* by destination */
	size_t slot_count, earlier_paths;
	uint32_t unseen;             /* ways on which nobody could see what is fitted */

	/* over all */
	size_t path_room;
	struct outcomes outcomes;
	size_t steps, passed;
	bool no_memory;
	bool too_much;          /* one of the limits above is reached; `too_far` says which sort */
	bool too_far;           /* by ways, not by doubt: no answer helps */
	bool fluid_doubt, presence_doubt;
	bool feed_matters[INLETS_MOST];
	bool open, due;         /* a circumstance holds; a device's date has come: certain, or in settled doubt */
	enum urgency at_least;  /* what circumstances and states of devices demand by themselves */
	struct asks asks;       /* what can move a figure */
	struct asks later;      /* what can only bring a circumstance, or a date that has come, into effect */
	size_t because_room;
};

struct judge {
	const struct rulebook *book;
	const struct survey *survey;
	struct tree tree;
	struct subject **kind, **type, *urgency;
	struct reading kind_reading, urgency_reading;
	struct reading *spare; /* whose leaf arrays are kept for the next device */
	size_t spare_count, spare_room;
	struct arena scratch;
};

/* way.c: fills way, destination and device for the feeds chosen. */
void work_find_ways(struct work *work);

/* There are more ways than can be followed: the point is undecided, and that is said. */
void work_give_up(struct work *work);

/* Stands for an inlet that the point does not have in the survey: nothing was said of it. The same at each call. NULL when
 * there is no memory. */
const struct item *work_stand_in(struct work *work, const struct item *point, const char *inlet_id);

/* enumerate.c: what could need a path; then adds the outcomes of all completions. */
bool work_find_paths(struct work *work);
void work_enumerate(struct work *work);

/* worth.c: what all protections together could be worth. A state is one word a way (figures.h). */
struct states {
	uint64_t *word;
	size_t stride, count, room;
};
struct states work_fold_devices(struct work *work);
uint64_t *states_at(const struct states *states, size_t i);

/* ask.c */
void work_note_doubts(struct work *work); /* once a combination of feeds, after its paths, before enumerating */
void work_note_effects_of_devices(struct work *work); /* once a combination of feeds, after enumerating */
void work_note_effects_of_kind(struct work *work);
void work_add_ask(struct work *work, struct asks *asks, struct ask ask);

/* why.c */
void work_say_why_of_devices(struct work *work); /* once a combination of feeds, after enumerating */
void work_say_why_of_kind(struct work *work);
void work_add_because(struct work *work, const struct row *row, const struct item *protection, enum holds holds);

/* soon.c: when the word is known. */
void work_find_urgency(struct work *work);

/* conclude.c: from outcomes to the word. */
void work_conclude(struct work *work);

/* judge.c */
struct subject *judge_kind(struct judge *judge, uint16_t kind, struct err *err);
struct subject *judge_type(struct judge *judge, uint16_t type, struct err *err);
void judge_lend(struct judge *judge, struct reading *reading); /* a leaf array, if one is spare */

#endif

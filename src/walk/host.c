/*
 * Effects, handed to whoever carries them out.
 */
#include "tundish/walk/host.h"

void walk_host_carry_out(const struct walk_host *host, struct walk *walk,
                         const struct walk_effect *effect)
{
	switch (effect->form) {
	case WALK_COMMITTED:
		if (host->committed != NULL)
			host->committed(host->context, walk, &effect->changes);
		break;
	case WALK_SAVE:
		host->save(host->context, walk);
		break;
	case WALK_SAVE_AS:
		if (host->save_as != NULL)
			host->save_as(host->context, walk, effect->path);
		else
			walk_saved(walk, false, "here it can't go to another file.");
		break;
	case WALK_SHOWN:
		if (host->shown != NULL)
			host->shown(host->context, walk, effect->task);
		break;
	case WALK_ANSWERED:
		if (host->answered != NULL)
			host->answered(host->context, walk, effect->task, effect->grade);
		break;
	case WALK_HANDED_IN:
		if (host->handed_in != NULL)
			host->handed_in(host->context, walk);
		break;
	case WALK_MONO:
	case WALK_LEAVE:
		break;
	}
}

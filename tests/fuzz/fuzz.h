/* What the fuzz targets share: the small book of the tests, and how a promise is held. */
#ifndef TUNDISH_TESTS_FUZZ_H
#define TUNDISH_TESTS_FUZZ_H

#include "tundish/base/fault.h"

#include "../texts.h"

#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

/** Stop where a promise is broken: a fuzzer takes an abort for a find. */
#define PROMISE(holds)                                                                             \
	do {                                                                                       \
		if (!(holds)) {                                                                    \
			fprintf(stderr, "%s:%d: %s\n", __FILE__, __LINE__, #holds);                \
			abort();                                                                   \
		}                                                                                  \
	} while (0)

/** Every fault has a place in a text, and can be shown. */
static inline void promise_faults(const struct faults *faults)
{
	for (size_t i = 0; i < faults->count; i++) {
		const struct fault *fault = &faults->item[i];

		PROMISE(fault->message[0] != '\0');
		if (fault->source)
			PROMISE((size_t)fault->span.at + fault->span.length <=
			        fault->source->length);
		if (i < 20)
			PROMISE(fault_text(fault, faults->arena));
	}
}

#endif

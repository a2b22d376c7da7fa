/* Holds an assessment against what its case says (tests/cases/README.md). */
#ifndef TUNDISH_TESTS_EXPECT_CHECK_H
#define TUNDISH_TESTS_EXPECT_CHECK_H

#include "expect.h"
#include "tundish/print/assessed.h"

/** Fails the running test, with @p assessed's file and outlet in the message, where they differ. */
void expect_check(const struct assessed *assessed, const struct expectation *expected);

#endif

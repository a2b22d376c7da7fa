/**
 * @file
 * For tests only: the end of every suite.
 */
#ifndef TUNDISH_TESTS_SUITE_H
#define TUNDISH_TESTS_SUITE_H

#include <check.h>
#include <stdlib.h>

/** Runs and frees a suite. @return the status to leave with: EXIT_FAILURE where something failed. */
static inline int suite_run(Suite *suite)
{
	SRunner *runner = srunner_create(suite);
	int failed;

	srunner_run_all(runner, CK_ENV);
	failed = srunner_ntests_failed(runner);
	srunner_free(runner);
	return failed == 0 ? EXIT_SUCCESS : EXIT_FAILURE;
}

#endif

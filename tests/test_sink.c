#include "tundish/base/sink.h"

#include "suite.h"

#include <check.h>
#include <errno.h>
#include <fcntl.h>
#include <poll.h>
#include <pthread.h>
#include <signal.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>
#include <wchar.h>

static struct sink sink;
static struct err err;

/* The compiler is not to know it: it would see that there can be no such text. */
static volatile size_t more_than_there_is = SIZE_MAX / 2;

static void set_up(void)
{
	err = (struct err){0};
	signal(SIGPIPE, SIG_IGN);
}

static void tear_down(void)
{
	sink_finish(&sink);
}

START_TEST(memory_keeps_everything)
{
	sink_to_memory(&sink);
	ck_assert_ptr_null(sink.bytes);
	sink_text(&sink, "bath");
	sink_bytes(&sink, "\0x", 2);
	sink_print(&sink, " %d mm", 25);
	sink_text(&sink, "");
	ck_assert_uint_eq(sink.count, 12);
	ck_assert_mem_eq(sink.bytes, "bath\0x 25 mm", 13);
	ck_assert(sink_flush(&sink, &err));
	ck_assert_int_eq(err.kind, ERR_NONE);
	ck_assert_uint_eq(sink.count, 12);
}
END_TEST

START_TEST(memory_grows)
{
	size_t each = (size_t)_i * 333 + 1;
	char *piece = malloc(each);

	ck_assert_ptr_nonnull(piece);
	sink_to_memory(&sink);
	for (int i = 0; i < 50; i++) {
		memset(piece, 'a' + i % 26, each);
		sink_bytes(&sink, piece, each);
	}
	ck_assert_uint_eq(sink.count, 50 * each);
	for (size_t i = 0; i < 50; i++)
		ck_assert_int_eq(sink.bytes[i * each + each - 1], 'a' + (int)i % 26);
	ck_assert_int_eq(sink.bytes[sink.count], '\0');
	free(piece);
}
END_TEST

/* At the edge of the short buffer, and far past it. */
START_TEST(long_prints_are_whole)
{
	static const int widths[] = {510, 511, 512, 513, 100000};

	sink_to_memory(&sink);
	sink_print(&sink, "%*s", widths[_i], "end");
	ck_assert_uint_eq(sink.count, (size_t)widths[_i]);
	ck_assert_str_eq(sink.bytes + sink.count - 3, "end");
}
END_TEST

START_TEST(too_much_for_memory_sticks)
{
	sink_to_memory(&sink);
	sink_text(&sink, "kept");
	sink_bytes(&sink, "never read", more_than_there_is);
	sink_text(&sink, "dropped");
	ck_assert(sink.failed);
	ck_assert_mem_eq(sink.bytes, "kept", 5);
	ck_assert(!sink_flush(&sink, &err));
	ck_assert_int_eq(err.kind, ERR_MEMORY);
	ck_assert(!sink_flush(&sink, NULL));
}
END_TEST

static int temporary_file(void)
{
	char path[] = "/tmp/test_sink_XXXXXX";
	int fd = mkstemp(path);

	ck_assert_int_ge(fd, 0);
	unlink(path);
	return fd;
}

/* Pieces smaller than, as big as, and bigger than what is held back, in turn. */
START_TEST(a_file_gets_every_byte_in_order)
{
	static const size_t sizes[] = {1, 1000, 65535, 65536, 65537, 200000, 3};
	static char piece[200000];
	static char back[200000];
	int fd = temporary_file();

	sink_to_fd(&sink, fd);
	for (size_t i = 0; i < 21; i++) {
		memset(piece, 'a' + (int)i, sizes[i % 7]);
		sink_bytes(&sink, piece, sizes[i % 7]);
	}
	sink_print(&sink, "%s\n", "last");
	ck_assert(sink_flush(&sink, &err));
	ck_assert(sink_flush(&sink, &err));
	ck_assert_int_eq(lseek(fd, 0, SEEK_SET), 0);
	for (size_t i = 0; i < 21; i++) {
		ck_assert_int_eq(read(fd, back, sizes[i % 7]), (ssize_t)sizes[i % 7]);
		memset(piece, 'a' + (int)i, sizes[i % 7]);
		ck_assert(memcmp(back, piece, sizes[i % 7]) == 0);
	}
	ck_assert_int_eq(read(fd, back, 100), 5);
	ck_assert_mem_eq(back, "last\n", 5);
	close(fd);
}
END_TEST

START_TEST(short_output_waits_for_the_flush)
{
	int fd = temporary_file();

	sink_to_fd(&sink, fd);
	sink_text(&sink, "held back");
	ck_assert_int_eq(lseek(fd, 0, SEEK_END), 0);
	ck_assert(sink_flush(&sink, &err));
	ck_assert_int_eq(lseek(fd, 0, SEEK_END), 9);
	close(fd);
}
END_TEST

START_TEST(a_closed_pipe_is_told_once_and_sticks)
{
	int ends[2];

	ck_assert_int_eq(pipe(ends), 0);
	close(ends[0]);
	sink_to_fd(&sink, ends[1]);
	sink_text(&sink, "to nobody");
	ck_assert(!sink_flush(&sink, &err));
	ck_assert_int_eq(err.kind, ERR_IO);
	ck_assert_ptr_nonnull(strstr(err.message, strerror(EPIPE)));
	ck_assert_int_eq(sink.reason, EPIPE);
	sink_text(&sink, "more");
	ck_assert_uint_eq(sink.count, 0);
	ck_assert(!sink_flush(&sink, NULL));
	close(ends[1]);
}
END_TEST

/* Long output fails before the flush; the flush still says so, and gives the first reason. */
START_TEST(a_failure_on_the_way_is_told_at_the_flush)
{
	static char much[100000];
	int ends[2];

	ck_assert_int_eq(pipe(ends), 0);
	close(ends[0]);
	sink_to_fd(&sink, ends[1]);
	sink_bytes(&sink, much, sizeof(much));
	ck_assert(sink.failed);
	close(ends[1]);
	sink_text(&sink, "more");
	ck_assert(!sink_flush(&sink, &err));
	ck_assert_int_eq(sink.reason, EPIPE);
}
END_TEST

static size_t arrived;

static void *drain(void *end)
{
	static char bytes[10000];
	ssize_t count;

	while ((count = read(*(int *)end, bytes, sizeof(bytes))) > 0) {
		arrived += (size_t)count;
		poll(NULL, 0, 1); /* slower than the writer, so that the pipe is full at times */
	}
	return NULL;
}

START_TEST(a_pipe_that_does_not_block_gets_everything)
{
	static char much[600000];
	int ends[2];
	pthread_t reader;

	ck_assert_int_eq(pipe(ends), 0);
	ck_assert_int_eq(fcntl(ends[1], F_SETFL, O_NONBLOCK), 0);
	ck_assert_int_eq(pthread_create(&reader, NULL, drain, &ends[0]), 0);
	sink_to_fd(&sink, ends[1]);
	sink_bytes(&sink, much, sizeof(much));
	sink_text(&sink, "end");
	ck_assert(sink_flush(&sink, &err));
	close(ends[1]);
	ck_assert_int_eq(pthread_join(reader, NULL), 0);
	ck_assert_uint_eq(arrived, sizeof(much) + 3);
	close(ends[0]);
}
END_TEST

/* No character of any encoding: the C library cannot print it. */
START_TEST(a_print_that_cannot_be_made_is_a_failure)
{
	sink_to_memory(&sink);
	sink_print(&sink, "%lc", (wint_t)0xDFFFFFFF);
	ck_assert(!sink_flush(&sink, &err));
	ck_assert_int_eq(err.kind, ERR_IO);
	ck_assert_int_eq(sink.reason, EILSEQ);
}
END_TEST

START_TEST(the_first_reason_is_kept)
{
	sink_to_memory(&sink);
	sink_bytes(&sink, "never read", more_than_there_is);
	sink_print(&sink, "%lc", (wint_t)0xDFFFFFFF);
	ck_assert_int_eq(sink.reason, ENOMEM);
}
END_TEST

START_TEST(finish_accepts_a_zeroed_sink)
{
	struct sink zeroed = {0};

	sink_finish(&zeroed);
	sink_finish(&zeroed);
	ck_assert_ptr_null(zeroed.bytes);
}
END_TEST

START_TEST(the_first_error_wins)
{
	err_set(&err, ERR_USAGE, "first %d", 1);
	err_set(&err, ERR_IO, "second");
	ck_assert_int_eq(err.kind, ERR_USAGE);
	ck_assert_str_eq(err.message, "first 1");
	err_set(NULL, ERR_IO, "nobody");
}
END_TEST

/* 399 bytes fit; a character of two bytes is not cut in half. */
START_TEST(a_long_error_is_cut_at_a_whole_character)
{
	char text[600];

	memset(text, 'x', sizeof(text));
	memcpy(text + 398, "\u00E9", 2);
	text[599] = '\0';
	err_set(&err, ERR_TEXT, "%s", text);
	ck_assert_uint_eq(strlen(err.message), 398);
	err = (struct err){0};
	err_set(&err, ERR_TEXT, "%s", text + 1);
	ck_assert_uint_eq(strlen(err.message), 399);
}
END_TEST

int main(void)
{
	Suite *suite = suite_create("sink");
	TCase *tcase = tcase_create("sink");

	tcase_add_checked_fixture(tcase, set_up, tear_down);
	tcase_add_test(tcase, memory_keeps_everything);
	tcase_add_loop_test(tcase, memory_grows, 0, 12);
	tcase_add_loop_test(tcase, long_prints_are_whole, 0, 5);
	tcase_add_test(tcase, too_much_for_memory_sticks);
	tcase_add_test(tcase, a_file_gets_every_byte_in_order);
	tcase_add_test(tcase, short_output_waits_for_the_flush);
	tcase_add_test(tcase, a_closed_pipe_is_told_once_and_sticks);
	tcase_add_test(tcase, a_failure_on_the_way_is_told_at_the_flush);
	tcase_add_test(tcase, a_pipe_that_does_not_block_gets_everything);
	tcase_add_test(tcase, a_print_that_cannot_be_made_is_a_failure);
	tcase_add_test(tcase, the_first_reason_is_kept);
	tcase_add_test(tcase, finish_accepts_a_zeroed_sink);
	tcase_add_test(tcase, the_first_error_wins);
	tcase_add_test(tcase, a_long_error_is_cut_at_a_whole_character);
	suite_add_tcase(suite, tcase);
	return suite_run(suite);
}

/* Where no fuzzer drives a target: every file of a folder, once. */
#include "fuzz.h"

#include <dirent.h>

int main(int argc, char **argv)
{
	struct dirent **entry;
	int count = argc == 2 ? scandir(argv[1], &entry, NULL, alphasort) : -1, run = 0;

	for (int i = 0; i < count; i++) {
		static uint8_t bytes[1 << 20];
		char path[4096];
		FILE *file;

		snprintf(path, sizeof(path), "%s/%s", argv[1], entry[i]->d_name);
		file = entry[i]->d_name[0] == '.' ? NULL : fopen(path, "rb");
		free(entry[i]);
		if (!file)
			continue;
		LLVMFuzzerTestOneInput(bytes, fread(bytes, 1, sizeof(bytes), file));
		fclose(file);
		run++;
	}
	if (count >= 0)
		free(entry);
	printf("%d files\n", run);
	return run > 0 ? EXIT_SUCCESS : EXIT_FAILURE;
}

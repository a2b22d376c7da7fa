#include "tundish/teach/quiz_file.h"

void quiz_file_finish(struct quiz_file *file)
{
	arena_finish(&file->arena);
	*file = (struct quiz_file){0};
}

#include "commands/command.h"

#include <locale.h>

int main(int argc, char **argv)
{
	setlocale(LC_CTYPE,
	          ""); /* what the terminal can show; numbers and dates stay the same everywhere */
	return command_main(argc, argv);
}

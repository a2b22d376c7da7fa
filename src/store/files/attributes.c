#include "attributes.h"

#ifdef __linux__

#include <errno.h>
#include <string.h>
#include <sys/types.h>
#include <sys/xattr.h>

enum { NAMES_MOST = 16 * 1024, VALUE_MOST = 64 * 1024 /* as the kernel has it at most */ };

/* POSIX's lists, as the kernel names them; those of network file systems begin alike. */
static const char acl[] = "system.posix_acl_access", acls[] = "system.";

static bool copy_one(const char *name, int from, int to)
{
	char value[VALUE_MOST];
	ssize_t length = fgetxattr(from, name, value, sizeof(value));

	return length >= 0 && fsetxattr(to, name, value, (size_t)length, 0) == 0;
}

bool attributes_copy(int from, int to)
{
	char names[NAMES_MOST];
	ssize_t length = flistxattr(from, names, sizeof(names));
	bool kept = length >= 0 || errno == ENOTSUP, had = false;

	for (const char *name = names; name < names + length; name += strlen(name) + 1) {
		bool copied = copy_one(name, from, to);

		had |= strcmp(name, acl) == 0;
		kept &= copied || strncmp(name, acls, sizeof(acls) - 1) != 0;
	}
	/* the folder's default list is for what is new in it */
	if (!had && fremovexattr(to, acl) != 0 && errno != ENODATA && errno != ENOTSUP)
		kept = false;
	return kept;
}

#else

bool attributes_copy(int from, int to)
{
	(void)from;
	(void)to;
	return true;
}

#endif

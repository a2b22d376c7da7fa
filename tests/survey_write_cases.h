	{"nothing", "tundish: 1", {NULL}, "tundish: 1"},

/* The version of the program (semantic versioning over commands, formats and check ids). */
#ifndef COMMANDS_VERSION_H
#define COMMANDS_VERSION_H

#define WETSIDE_VERSION "0.1.0"

#endif

/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_STATUS_H
#define DRAWTUBE_STATUS_H

/**
 * What every fallible function of the library returns. Results come by pointer
 * and are left untouched unless the status is DT_OK. The library never prints,
 * exits or aborts; planner/cli/ alone turns a status into an exit code.
 */
#define DT_STATUS_LIST(X)                                                                          \
    X(OK, "done")                                                                                  \
    X(E_DOMAIN, "an argument is outside the range the formula was made for")                       \
    X(E_INPUT, "the input was refused; see the report")                                            \
    X(E_NONE, "the input is valid but no program exists")                                          \
    X(E_MEMORY, "out of memory")                                                                   \
    X(E_IO, "a file could not be read or written")

typedef enum dt_status {
#define DT_STATUS_ENUM(name, text) DT_##name,
    DT_STATUS_LIST(DT_STATUS_ENUM)
#undef DT_STATUS_ENUM
} dt_status;

/** One sentence on a status, in English, static storage. */
const char *dt_status_text(dt_status status);

#endif

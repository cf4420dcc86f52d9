/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_STATUS_H
#define DRAWTUBE_STATUS_H

/* Statuses are public; planner/cli/ alone turns one into an exit code. */
#include <drawtube/base.h>

#endif

// SPDX-License-Identifier: MIT
#pragma once

#include "core/part/wire.h"

namespace touchmark::part {

/// A worker's whole life: reads the file that `request` names and answers on `channel`. Call in a process of its own.
[[noreturn]] void work(int channel, const Message& request);

} // namespace touchmark::part

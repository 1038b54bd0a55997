// SPDX-License-Identifier: MIT
#pragma once

#include "core/part/reader.h"

namespace touchmark::window {

/// The desktop program: touchmark [FILE] [--open FILE] [--screenshot PNG] [--size WxH] [--appearance
/// light|dark|system]. Returns the exit code.
int start(int argc, char** argv, std::shared_ptr<part::Reader> reader);

} // namespace touchmark::window

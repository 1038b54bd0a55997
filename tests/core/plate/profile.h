// SPDX-License-Identifier: MIT
#pragma once

#include "core/process/process.h"

#include <stdexcept>

namespace touchmark::test {

/// The profile of the common 0.4 mm nozzle.
inline process::Process common_profile() {
    auto process = process::load_process(TOUCHMARK_RESOURCES "/processes/fff-0.4.json");
    if (!process) throw std::runtime_error(process.error().message);
    return *std::move(process);
}

} // namespace touchmark::test

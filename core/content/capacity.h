// SPDX-License-Identifier: MIT
#pragma once

#include "core/content/module_grid.h"
#include "core/content/symbology.h"

#include <optional>
#include <string_view>

namespace touchmark::content {

/// How full a symbol is, counted in what its message consists of.
struct Capacity {
    std::string_view unit; ///< "digits", "characters" (capitals, digits and a few signs) or "bytes"
    std::size_t used = 0, most = 0;
};

/// Of the symbol that the message became: its size by its modules, its level (0 low … 3 high). nullopt for a linear
/// symbol, and where the message is denser than its count tells, being of several kinds.
[[nodiscard]] std::optional<Capacity> capacity_of(const Code& code, const ModuleGrid& modules, int level);

} // namespace touchmark::content

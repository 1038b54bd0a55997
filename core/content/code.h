// SPDX-License-Identifier: MIT
#pragma once

#include "core/content/capacity.h"
#include "core/content/content.h"
#include "core/content/module_grid.h"
#include "core/content/symbology.h"

#include <span>

namespace touchmark::content {

/// The row of a symbology; add new ones in symbologies().
struct SymbologyRow {
    Symbology symbology{};
    std::string_view key;      ///< in the job file and on the command line: "data_matrix"
    std::string_view title;    ///< "Data Matrix"
    std::string_view standard; ///< where it is defined
    int zint = 0;              ///< the library's number
    bool gs1 = false;          ///< the message is a GS1 element string in brackets
    bool linear = false;
    /// Light modules that belong to the symbol: on every side, of a linear symbol left and right only.
    int quiet_modules = 0;
    bool has_levels = false; ///< of error correction
    int most_version = 0;    ///< 0: sizes cannot be chosen
};
[[nodiscard]] std::span<const SymbologyRow> symbologies();
[[nodiscard]] const SymbologyRow& row_of(Symbology symbology);

[[nodiscard]] bool is_grooved(const Code& code);

/// A message as modules, without its quiet zone.
struct Symbol {
    ModuleGrid modules{0, 0};         ///< true: dark; a linear symbol has one row
    std::string version;              ///< "Version 3-M", "12 × 36", "": how its standard calls the size
    std::string readable;             ///< what a person reads beside it, UTF-8
    std::optional<Capacity> capacity; ///< none for symbols that are as long as their message
};
/// Errors, each naming what in the message is wrong: "content.code_empty", "content.code_message" (characters or GS1
/// elements that the symbology cannot hold), "content.code_capacity", "content.code_option" (a size or level that does
/// not exist), "content.bad_utf8".
[[nodiscard]] Result<Symbol> encode(const Code& code);

/// The modules of a drawn code with its quiet zone; true where the mark is.
struct MarkedModules {
    ModuleGrid grid{0, 0};
    ModuleSize size;
    Vec2 centre;       ///< of the grid, about the content's origin
    double filled = 1; ///< how much of a module of the mark is drawn: less than all where it is grooves
};
/// REQUIRES: `drawn` is what draw() made of `code`. Errors: those of encode().
[[nodiscard]] Result<MarkedModules> marked_modules(const Code& code, const Drawn& drawn);

/// A code's row of draw(). The extent includes the quiet zone. Errors: those of encode(), "content.size", and those of
/// the lettering beneath.
[[nodiscard]] Result<Drawn> draw_code(const Code& code, const FontLibrary& fonts);

} // namespace touchmark::content

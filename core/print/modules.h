// SPDX-License-Identifier: MIT
#pragma once

#include "core/content/module_grid.h"
#include "core/content/symbology.h"
#include "core/print/simulate.h"

namespace touchmark::print {

/// A code's modules as they came out.
struct ModuleCount {
    int modules = 0;
    int wrong = 0; ///< read the other way round: less than half the depth where the mark is, or more where it is not
    double least_margin = 1; ///< of all: how far from half the depth, 1 where it is as planned, < 0 where it is wrong
    Vec2 worst;              ///< the middle of the worst module, mark mm

    [[nodiscard]] double share() const { return modules > 0 ? static_cast<double>(wrong) / modules : 0; }
};

/// Each module is judged by the mean over its middle quarter, or over all of it where only a share of it is drawn.
/// `grid`: true where the mark is; `size` and the grid's place as in content::place_in, about `centre` in the mark's
/// mm.
[[nodiscard]] ModuleCount count_modules(const Printed& printed, const content::ModuleGrid& grid,
                                        const content::ModuleSize& size, Vec2 centre = {}, double filled = 1);

/// The share of wrong modules that a code's correction bears for sure. A wrong module spoils a codeword of eight, of
/// which it can right as many as half its correction codewords (Reed–Solomon): the worst is one wrong module each.
/// QR by level (ISO/IEC 18004: about 7, 15, 25 and 30 % of the codewords), Data Matrix ECC 200 about 14 % at the sizes
/// that marks have (ISO/IEC 16022, from memory), linear symbols none.
[[nodiscard]] double bearable_share(content::Symbology symbology, content::CorrectionLevel level);

} // namespace touchmark::print

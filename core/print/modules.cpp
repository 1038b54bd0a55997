// SPDX-License-Identifier: MIT
#include "core/print/modules.h"

#include "core/content/code.h"

#include <cmath>

namespace touchmark::print {

ModuleCount count_modules(const Printed& printed, const content::ModuleGrid& grid, const content::ModuleSize& size,
                          Vec2 centre, double filled) {
    ModuleCount out;
    const bool whole = filled < 1;
    const int samples = whole ? 20 : 5; // a side
    const double first = whole ? 0 : 0.25, side = whole ? 1 : 0.5;
    for (int row = 0; row < grid.rows; ++row)
        for (int column = 0; column < grid.columns; ++column) {
            double sum = 0;
            for (int i = 0; i < samples; ++i)
                for (int k = 0; k < samples; ++k) {
                    const double x = column + first + side * (i + 0.5) / samples,
                                 y = row + first + side * (k + 0.5) / samples;
                    const Vec2 at = centre + content::place_in(grid, size, x, y);
                    sum += std::min(1.0, printed.retained(printed.relief.value(printed.from_mark(at))));
                }
            const double share = sum / (samples * samples) / filled;
            const double margin = (grid.at(column, row) ? std::min(share, 1.0) - 0.5 : 0.5 - share) * 2;
            ++out.modules;
            out.wrong += margin <= 0;
            if (margin < out.least_margin) {
                out.least_margin = margin;
                out.worst = centre + content::place_in(grid, size, column + 0.5, row + 0.5);
            }
        }
    return out;
}

double bearable_share(content::Symbology symbology, content::CorrectionLevel level) {
    constexpr double bits = 8;
    const bool qr = symbology == content::Symbology::qr || symbology == content::Symbology::gs1_qr;
    if (content::row_of(symbology).linear || symbology == content::Symbology::micro_qr) return 0;
    if (!qr) return 0.14 / bits;
    switch (level) {
    case content::CorrectionLevel::low:
        return 0.07 / bits;
    case content::CorrectionLevel::medium:
        return 0.15 / bits;
    case content::CorrectionLevel::quartile:
        return 0.25 / bits;
    case content::CorrectionLevel::high:
        return 0.30 / bits;
    }
    return 0;
}

} // namespace touchmark::print

// SPDX-License-Identifier: MIT
#include "app/viewport/cividis.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace touchmark::viewport {
namespace {

constexpr std::array<part::Colour, 18> rows{{{0.000000F, 0.135112F, 0.304751F},
                                             {0.000000F, 0.176082F, 0.407577F},
                                             {0.087465F, 0.214879F, 0.437342F},
                                             {0.180503F, 0.256180F, 0.427299F},
                                             {0.247605F, 0.296986F, 0.422917F},
                                             {0.305886F, 0.337681F, 0.424512F},
                                             {0.359916F, 0.378641F, 0.431501F},
                                             {0.411607F, 0.420145F, 0.443577F},
                                             {0.461616F, 0.462405F, 0.461969F},
                                             {0.514226F, 0.505546F, 0.472640F},
                                             {0.570607F, 0.549695F, 0.469593F},
                                             {0.628576F, 0.595104F, 0.459641F},
                                             {0.687957F, 0.641966F, 0.442886F},
                                             {0.748772F, 0.690470F, 0.418448F},
                                             {0.811054F, 0.740801F, 0.385198F},
                                             {0.875057F, 0.793125F, 0.339685F},
                                             {0.941147F, 0.847530F, 0.275815F},
                                             {0.995737F, 0.909344F, 0.217772F}}};

} // namespace

part::Colour cividis(double t) {
    const double place = std::clamp(t, 0.0, 1.0) * (rows.size() - 1);
    const auto low = std::min(static_cast<std::size_t>(place), rows.size() - 2);
    const auto share = static_cast<float>(place - static_cast<double>(low));
    const auto mix = [share](float a, float b) { return a + (b - a) * share; };
    const part::Colour &a = rows[low], &b = rows[low + 1];
    return {mix(a.red, b.red), mix(a.green, b.green), mix(a.blue, b.blue)};
}

} // namespace touchmark::viewport

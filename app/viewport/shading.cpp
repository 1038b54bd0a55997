// SPDX-License-Identifier: MIT
#include "app/viewport/shading.h"

#include "app/viewport/cividis.h"

namespace touchmark::viewport {

part::Colour colour_of_suitability(double suitability) {
    constexpr float muted = 0.45F; ///< share of grey
    const part::Colour pure = cividis(0.15 + 0.82 * suitability);
    const auto grey = static_cast<float>(0.56 + 0.30 * suitability);
    const auto mix = [grey](float value) { return value + (grey - value) * muted; };
    return {mix(pure.red), mix(pure.green), mix(pure.blue)};
}

ZoneLooks zone_looks(const process::Process& process, std::optional<Mode> mode, part::Colour plain) {
    ZoneLooks looks;
    looks.fill({plain, false});
    if (!mode) return looks;
    for (const Zone zone : zones) {
        const process::Suitability* suits = process.suitability_of(*mode, zone);
        if (!suits) continue;
        looks[static_cast<std::size_t>(zone)] = {colour_of_suitability(suits->figure.value),
                                                 suits->figure.value < avoid_below};
    }
    return looks;
}

} // namespace touchmark::viewport

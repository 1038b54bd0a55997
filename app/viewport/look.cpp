// SPDX-License-Identifier: MIT
#include "app/viewport/look.h"

namespace touchmark::viewport {

Look look_of(Theme theme) {
    if (theme == Theme::dark)
        return {.backdrop_top = {0.155F, 0.158F, 0.163F},
                .backdrop_bottom = {0.098F, 0.099F, 0.102F},
                .body = {0.60F, 0.605F, 0.61F},
                .kept_clear = {0.50F, 0.40F, 0.46F},
                .crease = {0.05F, 0.05F, 0.055F},
                .tangent = {0.30F, 0.30F, 0.31F},
                .plate = {0.185F, 0.189F, 0.195F},
                .plate_line = {0.40F, 0.41F, 0.42F},
                .plate_shadow = 0.62F,
                .cut = {0.42F, 0.42F, 0.43F},
                .raised = {0.97F, 0.97F, 0.965F},
                .lost = {0.95F, 0.45F, 0.05F},
                .fused = {0.25F, 0.60F, 0.90F},
                .rim = {0.03F, 0.03F, 0.03F},
                .accent = {0.94F, 0.56F, 0.77F}};
    return {.backdrop_top = {0.955F, 0.956F, 0.955F},
            .backdrop_bottom = {0.885F, 0.89F, 0.893F},
            .body = {0.77F, 0.775F, 0.775F},
            .kept_clear = {0.66F, 0.55F, 0.61F},
            .crease = {0.15F, 0.16F, 0.17F},
            .tangent = {0.52F, 0.53F, 0.54F},
            .plate = {0.845F, 0.852F, 0.856F},
            .plate_line = {0.50F, 0.52F, 0.53F},
            .plate_shadow = 0.40F,
            .cut = {0.50F, 0.505F, 0.515F},
            .raised = {0.985F, 0.985F, 0.98F},
            .lost = {0.835F, 0.369F, 0.0F},
            .fused = {0.0F, 0.447F, 0.698F},
            .rim = {0.06F, 0.06F, 0.07F},
            .accent = {0.545F, 0.114F, 0.369F}};
}

} // namespace touchmark::viewport

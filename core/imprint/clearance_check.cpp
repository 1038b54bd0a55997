// SPDX-License-Identifier: MIT
#include "core/imprint/clearance_check.h"

namespace touchmark::imprint {

Status clear_of_the_rest(const part::Part&, std::span<const Footprint>, const Options&, const Progress&) {
    return {};
}

} // namespace touchmark::imprint

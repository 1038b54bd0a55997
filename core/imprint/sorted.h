// SPDX-License-Identifier: MIT
#pragma once

// The regions of a mark by what has to be done with each.

#include "core/imprint/shell_edit.h"

#include <algorithm>
#include <vector>

namespace touchmark::imprint {

/// The mark's regions by the piece of the host face that holds them.
struct Sorted {
    struct Share {
        TopoDS_Face face;
        std::vector<std::size_t> regions;
        Nesting nesting;
    };
    std::vector<Share> shares;
    std::vector<std::size_t> crossing;

    void send_all_to_the_boolean() {
        for (const Share& share : shares)
            crossing.insert(crossing.end(), share.regions.begin(), share.regions.end());
        std::sort(crossing.begin(), crossing.end());
        shares.clear();
    }
};

} // namespace touchmark::imprint

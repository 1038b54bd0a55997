// SPDX-License-Identifier: MIT
#include "core/content/code.h"
#include "core/geometry/bridges.h"
#include "core/geometry/width.h"
#include "tests/core/content/lettering.h"
#include "tests/core/geometry/invariants.h"

#include <gtest/gtest.h>

namespace touchmark::content {
namespace {

using geometry::Bridged;
using geometry::Outline;

/// Cells of a grid that are not cut away and that no path over such cells joins to the border: by flooding, with
/// nothing of the library but the polygons' winding.
int loose_cells(const Outline& outline, double cell) {
    const Box2 box = geometry::bounds(outline);
    const int columns = static_cast<int>(box.width() / cell) + 4, rows = static_cast<int>(box.height() / cell) + 4;
    std::vector<char> state(static_cast<std::size_t>(columns * rows)); // 0 material, 1 cut, 2 reached
    const auto polygons = geometry::flattened(outline, cell / 20);
    for (int y = 0; y < rows; ++y)
        for (int x = 0; x < columns; ++x) {
            const Vec2 p = box.low + Vec2{(x - 1.49) * cell, (y - 1.49) * cell};
            int winding = 0;
            for (const geometry::Polygon& polygon : polygons)
                winding += geometry::winding(polygon, p);
            state[static_cast<std::size_t>(y * columns + x)] = winding != 0;
        }
    std::vector<int> open{0};
    state[0] = 2;
    while (!open.empty()) {
        const int at = open.back();
        open.pop_back();
        for (const int to :
             {at % columns > 0 ? at - 1 : -1, at % columns + 1 < columns ? at + 1 : -1, at - columns, at + columns})
            if (to >= 0 && to < columns * rows && state[static_cast<std::size_t>(to)] == 0)
                state[static_cast<std::size_t>(to)] = 2, open.push_back(to);
    }
    return static_cast<int>(std::ranges::count(state, 0));
}

TEST(BridgedLetters, EveryCounterOfEveryLetterIsHeld) {
    for (const auto& [family, weight, width] :
         {std::tuple{"DejaVu Sans", 700, 1.2}, {"Liberation Sans", 400, 0.8}, {"DejaVu Serif", 700, 1.0}}) {
        const Drawn all = test::drawn(
            Text{.text = "ABDOPQRabdegopq\n04689@&%ÄÖÅ®", .family = family, .weight = weight, .cap_height = Mm(10)});
        EXPECT_GT(loose_cells(all.outline, 0.1), 0) << "before";
        const Bridged held = geometry::bridged(all.outline, width);
        EXPECT_EQ(held.loose, 0u) << family;
        EXPECT_EQ(loose_cells(held.outline, 0.1), 0) << family;
        EXPECT_TRUE(test::is_valid(held.outline));
        const auto before = geometry::widths(all.outline), after = geometry::widths(held.outline);
        EXPECT_GT(after.strokes.front().width, 0.5 * before.strokes.front().width) << family << ": no slivers";
        EXPECT_GT(geometry::area(held.outline), 0.85 * geometry::area(all.outline)) << family << ": still read";
    }
}

TEST(BridgedLetters, TheIslandsOfACodeAreHeld) {
    for (const bool light : {false, true}) {
        const Drawn code = *draw(Code{.message = "HELLO 42", .module = Mm(1), .light_is_mark = light}, test::fonts());
        EXPECT_GT(loose_cells(code.outline, 0.1), 0) << "before";
        const Bridged held = geometry::bridged(code.outline, 0.8);
        EXPECT_EQ(held.loose, 0u);
        EXPECT_EQ(loose_cells(held.outline, 0.1), 0);
        EXPECT_TRUE(test::is_valid(held.outline));
        const double before = geometry::widths(code.outline).strokes.front().width;
        EXPECT_GE(geometry::widths(held.outline).strokes.front().width, 0.99 * std::min(before, 0.3));
    }
}

} // namespace
} // namespace touchmark::content

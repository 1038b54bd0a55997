// SPDX-License-Identifier: MIT
#include "tests/core/content/lettering.h"

#include "tests/core/geometry/invariants.h"

namespace touchmark::test {

using content::Drawn;
using content::Text;

const content::FontLibrary& fonts() {
    static const auto library = content::FontLibrary::system().value();
    return *library;
}

std::filesystem::path font_file(std::string_view family, int weight) {
    return fonts().find(family, weight).value().file;
}

Drawn drawn(const Text& text) {
    auto result = content::draw(text, fonts());
    EXPECT_TRUE(result) << result.error().message;
    return result.value_or(Drawn{});
}

Drawn drawn(std::string text, std::string family, double cap_height) {
    Text lettering;
    lettering.text = std::move(text);
    if (!family.empty()) lettering.family = std::move(family);
    lettering.cap_height = Mm(cap_height);
    return drawn(lettering);
}

std::string refusal(const Text& text) {
    const auto result = content::draw(text, fonts());
    return result ? std::string() : result.error().code;
}

std::vector<std::string> labels(const Drawn& drawn) {
    std::vector<std::string> out;
    for (const content::Piece& piece : drawn.pieces)
        out.push_back(piece.label);
    return out;
}

testing::AssertionResult is_consistent(const Drawn& drawn) {
    const auto regions = drawn.outline.regions.size();
    if (drawn.piece_of_region.size() != regions) return testing::AssertionFailure() << "regions without a piece";
    std::size_t next = 0;
    for (std::size_t p = 0; p < drawn.pieces.size(); ++p) {
        const content::Piece& piece = drawn.pieces[p];
        if (piece.first_region != next || piece.region_count == 0)
            return testing::AssertionFailure() << "piece " << p << " begins at region " << piece.first_region;
        Box2 box;
        for (std::size_t i = 0; i < piece.region_count; ++i, ++next) {
            if (drawn.piece_of_region.at(next) != p) return testing::AssertionFailure() << "region " << next;
            box.add(bounds(drawn.outline.regions.at(next).outer));
        }
        if (distance(box.low, piece.extent.low) > 1e-9 || distance(box.high, piece.extent.high) > 1e-9)
            return testing::AssertionFailure() << "the box of piece " << p;
    }
    if (next != regions) return testing::AssertionFailure() << "regions after the last piece";
    const Box2 box = bounds(drawn.outline);
    if (!box.empty() && (length(box.centre()) > 1e-9 || distance(box.low, drawn.extent.low) > 1e-9 ||
                         distance(box.high, drawn.extent.high) > 1e-9))
        return testing::AssertionFailure() << "not centred";
    return is_valid(drawn.outline, 1e-4);
}

} // namespace touchmark::test

// SPDX-License-Identifier: MIT
#include "core/pipeline/bridged_drawing.h"

namespace touchmark::pipeline {
namespace {

/// Regions come in the order of those that they are pieces of, so those of a letter stay together.
content::Drawn with_outline(content::Drawn drawn, geometry::Bridged bridged) {
    std::vector<std::size_t> count(drawn.outline.regions.size());
    for (const std::size_t region : bridged.from)
        ++count[region];
    std::size_t next = 0;
    std::vector<std::uint32_t> piece_of_region;
    for (std::size_t i = 0; i < drawn.pieces.size(); ++i) {
        content::Piece& piece = drawn.pieces[i];
        const auto first = count.begin() + static_cast<std::ptrdiff_t>(piece.first_region);
        std::size_t regions = 0;
        for (auto at = first; at != first + static_cast<std::ptrdiff_t>(piece.region_count); ++at)
            regions += *at;
        piece.first_region = next;
        piece.region_count = regions;
        piece_of_region.insert(piece_of_region.end(), regions, static_cast<std::uint32_t>(i));
        next += regions;
    }
    drawn.piece_of_region = std::move(piece_of_region);
    drawn.outline = std::move(bridged.outline);
    return drawn;
}

} // namespace

std::optional<double> bridge_width(const job::Mark& mark, const process::Process& process) {
    if (mark.mode != Mode::through || mark.bridges == job::Bridging::none) return std::nullopt;
    if (mark.bridge_width.value > 0) return mark.bridge_width.value;
    // Alike in every zone, so that the solid, which knows no zones, has the same ones.
    const process::Limit* limit = process.limit("bridge_width", Mode::through, Zone::side_wall);
    return limit ? std::optional(limit->comfortable.value) : std::nullopt;
}

Result<std::shared_ptr<const BridgedDrawing>>
bridged_drawing(Store& store, const Digest& key, const content::Drawn& drawn, double width, const Progress& progress) {
    return store.bridged.get(
        Digester().add(key).add(width).digest(), progress, [&]() -> Result<std::shared_ptr<const BridgedDrawing>> {
            geometry::Bridged bridged = geometry::bridged(drawn.outline, width);
            auto made = std::make_shared<BridgedDrawing>();
            made->bridges = bridged.bridges;
            made->drawn = std::make_shared<const content::Drawn>(with_outline(drawn, std::move(bridged)));
            using Places = const std::vector<geometry::Narrow>;
            geometry::Widths widths = geometry::widths(made->drawn->outline);
            made->strokes = std::make_shared<Places>(std::move(widths.strokes));
            made->gaps = std::make_shared<Places>(std::move(widths.gaps));
            using Stretches = const std::vector<geometry::Stretch>;
            made->stroke_stretches = std::make_shared<Stretches>(std::move(widths.stroke_stretches));
            made->gap_stretches = std::make_shared<Stretches>(std::move(widths.gap_stretches));
            return made;
        });
}

} // namespace touchmark::pipeline

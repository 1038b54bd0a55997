// SPDX-License-Identifier: MIT
#include "core/rules/narrow.h"

#include <algorithm>

namespace touchmark::rules {
const content::Piece* piece_of(const content::Drawn& drawn, std::uint32_t region) {
    if (region >= drawn.piece_of_region.size()) return nullptr;
    const std::size_t piece = drawn.piece_of_region[region];
    return piece < drawn.pieces.size() ? &drawn.pieces[piece] : nullptr;
}

NarrowPlaces narrow_places(const MarkView& view, std::span<const geometry::Narrow> places, double below, NameOf name) {
    NarrowPlaces found;
    for (const geometry::Narrow& place : places) {
        if (place.width >= below - same) break; // the narrowest come first
        if (!found.worst) {
            found.worst = &place;
            const content::Piece* piece = piece_of(*view.drawn, place.region);
            if (piece) found.extent_mm = std::max(piece->extent.width(), piece->extent.height());
            found.in_code = view.drawn->code && piece == &view.drawn->pieces.front();
        }
        if (found.where.size() < most_spots) found.where.push_back(on_map(view, place.at));
        std::string text = name(*view.drawn, place);
        if (std::ranges::find(found.names, text) == found.names.end()) found.names.push_back(std::move(text));
    }
    return found;
}

bool Layering::too_narrow(const geometry::Stretch& stretch, double below) const {
    const double needed = up ? std::max(below * std::abs(dot(stretch.along, *up)), std::min(below, height)) : below;
    return stretch.width < needed - same;
}

Layering layering_of(const Context& context, const MarkView& view) {
    if (!context.process.printing || view.zone != Zone::side_wall || !view.map) return {};
    const Vec2 rise = rise_on_map(view);
    const double steep = length(rise);
    if (steep < same) return {};
    return {geometry::Affine::rotation(-view.mark->anchor.turn.radians())(rise * (1 / steep)),
            context.process.layer_height_mm.value};
}

double narrow_share(std::span<const geometry::Stretch> stretches, std::span<const geometry::Stretch> strokes,
                    double below, const Layering& layering) {
    double narrow = 0, all = 0;
    for (const geometry::Stretch& stretch : stretches)
        if (layering.too_narrow(stretch, below)) narrow += stretch.length;
    for (const geometry::Stretch& stroke : strokes)
        all += stroke.length;
    return all > 0 ? narrow / all : 0;
}

double narrow_share(const content::Drawn& drawn, std::span<const geometry::Narrow> places,
                    const std::vector<geometry::Stretch>* stretches, const std::vector<geometry::Stretch>* strokes,
                    double below, const Layering& layering) {
    const std::size_t pieces = drawn.pieces.size();
    struct Sums {
        double narrow = 0, own = 0, strokes = 0;
    };
    std::vector<Sums> sums(pieces);
    const auto index = [&](std::uint32_t region) -> std::size_t {
        return region < drawn.piece_of_region.size() ? drawn.piece_of_region[region] : pieces;
    };
    if (stretches)
        for (const geometry::Stretch& stretch : *stretches)
            if (const std::size_t piece = index(stretch.region); piece < pieces) {
                sums[piece].own += stretch.length;
                if (layering.too_narrow(stretch, below)) sums[piece].narrow += stretch.length;
            }
    if (strokes)
        for (const geometry::Stretch& stroke : *strokes)
            if (const std::size_t piece = index(stroke.region); piece < pieces) sums[piece].strokes += stroke.length;
    double most = 0;
    for (const Sums& piece : sums)
        if (piece.strokes > 0) most = std::max(most, piece.narrow / piece.strokes);
    for (const geometry::Narrow& place : places) {
        if (place.width >= below - same) break; // the narrowest come first
        const std::size_t piece = index(place.region);
        if (piece >= pieces || sums[piece].own == 0 || index(place.other_region) != piece) return 1;
    }
    return most;
}

double clean_factor(const Context& context, const MarkView& view, std::string_view rule) {
    const auto& places = rule == "stroke_width" ? view.strokes : view.gaps;
    const process::Limit* limit = context.process.limit(rule, view.mark->mode, view.zone);
    if (!limit || !places || places->empty()) return 1;
    return std::max(1.0, limit->comfortable.value / places->front().width);
}

} // namespace touchmark::rules

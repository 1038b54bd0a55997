// SPDX-License-Identifier: MIT
#include "core/base/progress.h"
#include "core/print/coverage.h"
#include "core/print/layer_models.h"

#include <algorithm>
#include <cmath>

namespace touchmark::print {
namespace {

using geometry::Outline;
using geometry::Polygon;
using geometry::Region;

constexpr double shown_lines = 3; // lines of the wall shown behind the mark
constexpr double straight = 1e-3; // mm within which points of a profile lie on one line
constexpr double visible = 0.02;  // mm from which on a departure is shown
constexpr double least_mm2 = 0.005;

/// Heights over the face at places along a layer.
using Profile = std::vector<Vec2>;

/// Only the points at which it turns.
Profile simplified(const Profile& profile) {
    Profile out;
    for (const Vec2 p : profile) {
        while (out.size() >= 2) {
            const Vec2 along = p - out[out.size() - 2], last = out.back() - out[out.size() - 2];
            if (std::abs(cross(along, last)) > straight * length(along) || dot(along, last) < 0) break;
            out.pop_back();
        }
        out.push_back(p);
    }
    return out;
}

/// The middles of the cells; steep from one to the next.
Profile of_row(const Field& field, int row) {
    Profile out;
    for (int x = 0; x < field.grid.columns; ++x)
        out.push_back({field.grid.middle(x, row).x, field.at(x, row)});
    return out;
}

Profile planned_profile(const std::vector<double>& cuts, double low, double high, double height) {
    Profile out{{low, 0}};
    for (std::size_t i = 0; i + 1 < cuts.size(); i += 2)
        for (const Vec2 p : {Vec2{cuts[i], 0}, {cuts[i], height}, {cuts[i + 1], height}, {cuts[i + 1], 0}})
            out.push_back(p);
    out.push_back({high, 0});
    return out;
}

Region area_between(Profile upper, const Profile& lower) {
    upper = simplified(upper);
    Profile below = simplified(lower);
    Polygon polygon(below.begin(), below.end());
    polygon.insert(polygon.end(), upper.rbegin(), upper.rend());
    const auto last = std::unique(polygon.begin(), polygon.end());
    polygon.erase(last, polygon.end());
    if (polygon.size() > 1 && polygon.front() == polygon.back()) polygon.pop_back();
    return {geometry::contour_of(polygon), {}};
}

/// Where `upper` lies over `lower` by more than what is visible, one region a run of cells, as far as their neighbours.
Outline gaps_between(const Profile& upper, const Profile& lower) {
    Outline out;
    for (std::size_t i = 0; i < upper.size();) {
        std::size_t end = i;
        double sum = 0;
        for (; end < upper.size() && upper[end].y - lower[end].y > visible; ++end)
            sum += upper[end].y - lower[end].y;
        if (sum * (upper[1].x - upper[0].x) > least_mm2) {
            Profile above, below;
            for (std::size_t k = std::max<std::size_t>(i, 1) - 1; k < std::min(end + 1, upper.size()); ++k) {
                above.push_back(upper[k]);
                below.push_back({lower[k].x, std::min(lower[k].y, upper[k].y)});
            }
            out.regions.push_back(area_between(std::move(above), below));
        }
        i = std::max(end, i + 1);
    }
    return out;
}

/// A notch in a layer, or a void.
struct Dip {
    double middle, width, area;
};

/// Sections through the wall, one a layer.
class Sections {
public:
    Sections(const Bench& bench, const Field& heights, const LayersOptions& options)
        : bench_(bench), heights_(heights), cuts_(bench.polygons, heights.grid.step_y),
          hidden_(bench.standing.mode == Mode::hidden), outside_(hidden_ ? options.cover.value : 0),
          behind_((bench.raised() ? 0 : bench.standing.depth.value) + outside_ + shown_lines * bench.line_width()) {
        low_ = heights.grid.middle(0, 0).x;
        high_ = heights.grid.middle(heights.grid.columns - 1, 0).x;
    }

    [[nodiscard]] std::vector<double> cuts(int layer) const {
        return cuts_.at(bench_.bands[static_cast<std::size_t>(layer)].middle());
    }

    [[nodiscard]] Regions regions(int layer, const std::vector<double>& cuts) const {
        const double height = (bench_.raised() ? 1 : -1) * bench_.standing.depth.value;
        const Profile planned = planned_profile(cuts, low_, high_, height), laid = of_row(heights_, layer);
        Regions out;
        out.planned = {{material(planned)}};
        out.laid = {{material(laid)}};
        // At the same places as what was laid.
        Field share({.columns = heights_.grid.columns,
                     .rows = 1,
                     .low = heights_.grid.low,
                     .step_x = heights_.grid.step_x,
                     .step_y = heights_.grid.step_y});
        for (std::size_t i = 0; i + 1 < cuts.size(); i += 2)
            add_span(share.values, (cuts[i] - share.grid.low.x) / share.grid.step_x,
                     (cuts[i + 1] - share.grid.low.x) / share.grid.step_x, static_cast<float>(height));
        const Profile sampled = of_row(share, 0);
        out.left_out = shifted(gaps_between(sampled, laid));
        out.fused = shifted(gaps_between(laid, sampled));
        return out;
    }

    /// What is open at least half as deep as planned in one layer.
    [[nodiscard]] std::vector<Dip> dips(int layer) const {
        std::vector<Dip> out;
        const double half = bench_.standing.depth.value / 2, step = heights_.grid.step_x;
        for (int x = 0; x < heights_.grid.columns;) {
            int end = x;
            double sum = 0;
            for (; end < heights_.grid.columns && -heights_.at(end, layer) > half; ++end)
                sum -= heights_.at(end, layer);
            if (end > x) out.push_back({heights_.grid.low.x + (x + end) * step / 2, (end - x) * step, sum * step});
            x = std::max(end, x + 1);
        }
        return out;
    }

    [[nodiscard]] double unsupported_mm(int layer) const {
        if (layer == 0) return 0;
        int cells = 0;
        for (int x = 0; x < heights_.grid.columns; ++x)
            cells += hanging(bench_, heights_, x, layer) > 0;
        return cells * heights_.grid.step_x;
    }

    [[nodiscard]] double raised_mm2(int layer) const {
        double sum = 0;
        for (int x = 0; x < heights_.grid.columns; ++x)
            sum += heights_.at(x, layer);
        return sum * heights_.grid.step_x;
    }

    [[nodiscard]] bool touched(int layer) const {
        for (int x = 0; x < heights_.grid.columns; ++x)
            if (std::abs(heights_.at(x, layer)) > visible) return true;
        return false;
    }

private:
    /// Voids lie under their cover.
    [[nodiscard]] Outline shifted(Outline outline) const {
        return geometry::transformed(outline, geometry::Affine::translation({0, -outside_}));
    }

    /// The wall up to a profile, or about the voids that a profile dips into.
    [[nodiscard]] Region material(const Profile& profile) const {
        const Profile back{{low_, -behind_}, {high_, -behind_}};
        if (!hidden_) return area_between(profile, back);
        Region wall = area_between({{low_, 0}, {high_, 0}}, back);
        for (std::size_t i = 0; i < profile.size();) {
            std::size_t end = i;
            while (end < profile.size() && profile[end].y < -visible)
                ++end;
            if (end > i) {
                Profile dip{{profile[i].x, 0}};
                dip.insert(dip.end(), profile.begin() + static_cast<std::ptrdiff_t>(i),
                           profile.begin() + static_cast<std::ptrdiff_t>(end));
                dip.push_back({profile[end - 1].x, 0});
                const Region hole = area_between({dip.front(), dip.back()}, dip);
                wall.holes.push_back(geometry::transformed(geometry::reversed(hole.outer),
                                                           geometry::Affine::translation({0, -outside_})));
            }
            i = std::max(end, i + 1);
        }
        return wall;
    }

    const Bench& bench_;
    const Field& heights_;
    LevelCuts cuts_;
    bool hidden_;
    double outside_, behind_, low_ = 0, high_ = 0;
};

Extra extra_of(const Bench& bench, const Sections& sections, int layer, double edge_mm) {
    Extra extra;
    const Mode mode = bench.standing.mode;
    extra.outline_mm = edge_mm;
    double sides = 0, filled = 0; // of outlines that close, along the face
    if (mode == Mode::hidden || mode == Mode::inlay) {
        std::vector<Vec2> middles;
        for (const Dip& dip : sections.dips(layer)) {
            middles.push_back({dip.middle, 0});
            sides += 2 * dip.width;
            filled += dip.area;
            if (mode == Mode::inlay)
                extra.smallest_island_mm2 = std::min(extra.smallest_island_mm2.value_or(dip.area), dip.area);
        }
        extra.outlines = middles.size();
        extra.travel_mm = tour_length(std::move(middles));
    }
    if (mode == Mode::inlay) { // the pocket's edge, and about the bodies that fill it
        extra.islands = extra.outlines;
        extra.path_mm = edge_mm + filled / bench.line_width();
        extra.outline_mm += edge_mm + sides;
        return extra;
    }
    if (mode == Mode::hidden) extra.outline_mm += sides;
    extra.path_mm = bench.raised() ? sections.raised_mm2(layer) / bench.line_width() : extra.outline_mm;
    extra.unsupported_mm = sections.unsupported_mm(layer);
    return extra;
}

} // namespace

Status section_regions(const Bench& bench, const LayersOptions& options, Layers& out, const Progress& progress) {
    const Result<Profiles> carried = profiles(bench, progress);
    if (!carried) return std::unexpected(carried.error());
    const Field& heights = carried->heights;
    const Sections sections(bench, heights, options);
    out.depth = bench.standing.depth.value;
    for (int i = 0; i < heights.grid.rows; ++i) {
        if (progress.cancelled()) return fail(std::string(cancelled_code), "Cancelled.");
        const std::vector<double> cuts = sections.cuts(i);
        const double hangs = sections.unsupported_mm(i);
        if (cuts.size() < 2 && !sections.touched(i) && hangs <= 0) continue;
        Layer layer;
        const Band& band = bench.bands[static_cast<std::size_t>(i)];
        layer.from_mm = band.from;
        layer.to_mm = band.to;
        layer.on_plate = band.first_on_plate;
        if (options.want == Want::regions) layer.regions = std::make_shared<Regions>(sections.regions(i, cuts));
        layer.extra = extra_of(bench, sections, i, carried->extra_mm[static_cast<std::size_t>(i)]);
        time_layer(bench, layer);
        if (layer.regions)
            for (const Outline* part : {&layer.regions->planned, &layer.regions->laid})
                out.box.add(geometry::bounds(*part));
        out.layers.push_back(std::move(layer));
    }
    return {};
}

} // namespace touchmark::print

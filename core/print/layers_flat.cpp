// SPDX-License-Identifier: MIT
#include "core/base/progress.h"
#include "core/print/layer_models.h"

#include <algorithm>
#include <cmath>
#include <iterator>

namespace touchmark::print {
namespace {

using geometry::Outline;
using geometry::Region;

constexpr double frame = 2;     // mm of the face shown about the mark
constexpr double speck = 0.005; // mm² below which nothing is said to be lost or fused

double area(const Region& region) {
    double sum = std::abs(geometry::area(region.outer));
    for (const geometry::Contour& hole : region.holes)
        sum -= std::abs(geometry::area(hole));
    return sum;
}

Outline without_specks(Outline outline) {
    std::erase_if(outline.regions, [](const Region& region) { return area(region) < speck; });
    return outline;
}

/// The mark's own figure in a layer, and the material there: the figure itself where it is raised, else the face about
/// and within it.
class FlatLayer {
public:
    FlatLayer(const Bench& bench, double spread, bool on_plate, Want want)
        : bench_(bench), spread_(spread), on_plate_(on_plate), figure_(laid(bench, spread)) {
        const Box2 about = geometry::bounds(bench.outline).widened(frame);
        face_.regions.push_back({geometry::contour_of(about.corners()), {}});
        material_ = bench.raised() ? figure_ : geometry::difference(face_, figure_);
        const Outline lost = on_plate ? too_small() : Outline();
        lost_ = lost.regions.size();
        if (want == Want::regions) make_regions(lost);
    }

    [[nodiscard]] std::shared_ptr<const Regions> regions() const { return regions_; }

    /// Counts, outline and path of this layer.
    [[nodiscard]] Layer layer() const {
        Layer out;
        const double width = bench_.line_width(), speed = bench_.figures().speed_mm_s.value;
        const bool inlay = bench_.standing.mode == Mode::inlay;
        std::vector<Vec2> middles;
        double islands_path = 0;
        const auto outlined = [&](const Region& region) {
            middles.push_back(geometry::bounds(region.outer).centre());
            for (const geometry::Contour& hole : region.holes)
                middles.push_back(geometry::bounds(hole).centre());
        };
        const auto island = [&](double island_mm2) {
            ++out.extra.islands;
            islands_path += island_mm2 / width;
            out.extra.smallest_island_mm2 = std::min(out.extra.smallest_island_mm2.value_or(island_mm2), island_mm2);
        };
        for (const Region& region : figure_.regions)
            outlined(region);
        out.extra.outline_mm = geometry::perimeter(figure_);
        if (bench_.raised() || inlay) {
            for (const Region& region : figure_.regions)
                island(area(region));
            out.extra.path_mm = geometry::area(figure_) / width;
        }
        if (!bench_.raised()) {
            for (const Region& region : standing_within())
                island(area(region));
            out.extra.path_mm += out.extra.outline_mm;
        }
        if (inlay) { // the bodies' outlines lie along the pocket's
            for (const Region& region : figure_.regions)
                outlined(region);
            out.extra.outline_mm *= 2;
        }
        out.extra.outlines = middles.size();
        out.extra.travel_mm = tour_length(std::move(middles));
        if (on_plate_) {
            out.on_plate = true;
            out.extra.first_layer_islands = out.extra.islands;
            out.lost_islands = lost_;
        }
        time_layer(bench_, out);
        if (out.extra.islands > 0)
            out.islands_s = islands_path / speed + out.extra.travel_mm / bench_.figures().travel_mm_s.value +
                            static_cast<double>(out.extra.retractions) * bench_.figures().retraction_s.value;
        return out;
    }

    [[nodiscard]] double figure_area() const { return geometry::area(figure_); }
    [[nodiscard]] std::size_t figure_regions() const { return figure_.regions.size(); }

private:
    /// Pieces of material that a cut leaves standing: each hole of its figure, less what lies cut within the hole.
    [[nodiscard]] std::vector<Region> standing_within() const {
        Outline material = material_;
        const Box2 box = geometry::bounds(face_);
        std::erase_if(material.regions, [&](const Region& region) {
            return geometry::bounds(region.outer).low.x < box.low.x + frame / 2;
        });
        return std::move(material.regions);
    }

    /// Of the material, what comes off the plate.
    [[nodiscard]] Outline too_small() const {
        Outline lost;
        std::ranges::copy_if(material_.regions, std::back_inserter(lost.regions), [&](const Region& region) {
            return area(region) < bench_.figures().least_island_mm2.value;
        });
        return lost;
    }

    void make_regions(const Outline& lost) {
        auto made = std::make_shared<Regions>();
        const Outline& planned = bench_.outline;
        made->laid = material_;
        std::erase_if(made->laid.regions, [&](const Region& region) {
            return std::ranges::find(lost.regions, region) != lost.regions.end();
        });
        if (bench_.raised()) {
            const double half = bench_.figures().least_line_mm.value / 2;
            const Outline fits = geometry::grown(geometry::grown(planned, -half), half);
            made->planned = planned;
            made->left_out = geometry::difference(planned, fits);
            made->fused = geometry::difference(geometry::grown(figure_, -spread_), fits);
        } else {
            const double half = bench_.line_width() / 2;
            const Outline open = geometry::grown(geometry::grown(planned, half), -half);
            made->planned = geometry::difference(face_, planned);
            made->left_out = geometry::difference(open, planned);
            made->fused = geometry::difference(open, geometry::grown(figure_, spread_));
        }
        if (lost_ > 0) made->left_out = geometry::united(made->left_out, lost);
        made->left_out = without_specks(std::move(made->left_out));
        made->fused = without_specks(std::move(made->fused));
        regions_ = std::move(made);
    }

    const Bench& bench_;
    double spread_;
    bool on_plate_;
    Outline figure_, face_;
    Outline material_; ///< about and within a cut, or the figure itself; what comes off the plate included
    std::shared_ptr<const Regions> regions_;
    std::size_t lost_ = 0;
};

/// The layer that closes a void or a cut in the plate's face bridges it.
double bridged_mm(const Bench& bench, const FlatLayer& topmost) {
    const Mode mode = bench.standing.mode;
    const bool over_void = mode == Mode::hidden;
    const bool over_cut = bench.standing.zone == Zone::bottom && mode == Mode::engrave;
    return over_void || over_cut ? topmost.figure_area() / bench.line_width() : 0;
}

} // namespace

Status flat_regions(const Bench& bench, const LayersOptions& options, Layers& out, const Progress& progress) {
    const double height = bench.process->layer_height_mm.value, first = bench.process->first_layer_mm.value;
    const auto [others, in_first] = flat_layers(bench);
    double at = 0;
    const auto add = [&](const FlatLayer& flat, const std::shared_ptr<const Regions>& regions, double thickness) {
        Layer layer = flat.layer();
        layer.from_mm = at;
        layer.to_mm = at += thickness;
        layer.regions = regions;
        if (bench.raised() && out.layers.empty()) layer.extra.raised_islands = flat.figure_regions();
        if (bench.raised() && options.beside == Beside::nothing) {
            layer.extra.waited_s = std::max(0.0, bench.figures().least_layer_s.value - layer.extra.seconds);
            layer.extra.seconds += layer.extra.waited_s;
        }
        out.layers.push_back(std::move(layer));
    };
    const auto stop = [&] { return fail(std::string(cancelled_code), "Cancelled."); };
    if (progress.cancelled()) return stop();
    double bridged = 0;
    if (in_first) {
        const FlatLayer on_plate(bench, bench.figures().first_layer_spread_mm.value, true, options.want);
        add(on_plate, on_plate.regions(), first);
        bridged = bridged_mm(bench, on_plate);
    }
    if (progress.cancelled()) return stop();
    if (others > 0) {
        const FlatLayer flat(bench, bench.figures().bead_spread_mm.value, false, options.want);
        const auto regions = flat.regions();
        for (int i = 0; i < others; ++i)
            add(flat, regions, height);
        bridged = bridged_mm(bench, flat);
    }
    out.layers.back().extra.unsupported_mm = bridged;
    out.depth = at;
    for (const Layer& layer : out.layers)
        if (layer.regions)
            for (const Outline* part : {&layer.regions->planned, &layer.regions->laid})
                out.box.add(geometry::bounds(*part));
    return {};
}

} // namespace touchmark::print

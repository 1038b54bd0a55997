// SPDX-License-Identifier: MIT
#include "core/base/parallel.h"
#include "core/base/progress.h"
#include "core/print/coverage.h"
#include "core/print/models.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace touchmark::print {
namespace {

/// Half a disc as a structuring element: heights over a base line, in steps to one side.
std::vector<float> half_disc(double radius, int reach, double step) {
    std::vector<float> heights;
    for (int i = 0; i <= reach; ++i)
        heights.push_back(static_cast<float>(std::sqrt(std::max(0.0, radius * radius - i * i * step * step))));
    return heights;
}

/// Grey-scale erosion and dilation of one layer's profile: where the middle of a round line can run that fits under
/// it, and what lines laid along there reach (J. Serra, "Image Analysis and Mathematical Morphology", 1982).
class LineFitter {
public:
    LineFitter(double radius, double spread, double step) : spread_(static_cast<float>(spread)) {
        const int reach = static_cast<int>(std::lround(radius / step));
        fits_ = half_disc(radius, reach, step);
        reaches_ = half_disc(radius + spread, reach + static_cast<int>(std::lround(spread / step)), step);
    }

    /// What comes out of a planned profile (mm out of the wall); ends are taken to go on.
    void run(std::vector<float>& profile) {
        morph(profile, fits_, middles_, [](float a, float b) { return a < b ? a : b; }, -1);
        morph(middles_, reaches_, profile, [](float a, float b) { return a > b ? a : b; }, 1);
        for (float& out : profile)
            out -= spread_;
    }

private:
    template <class Pick>
    static void morph(const std::vector<float>& in, const std::vector<float>& disc, std::vector<float>& out,
                      Pick&& pick, float sign) {
        const auto count = static_cast<std::ptrdiff_t>(in.size());
        const auto reach = static_cast<std::ptrdiff_t>(disc.size()) - 1;
        out.resize(in.size());
        for (std::ptrdiff_t i = 0; i < count; ++i)
            out[static_cast<std::size_t>(i)] = in[static_cast<std::size_t>(i)] + sign * disc[0];
        for (std::ptrdiff_t k = 1; k <= reach; ++k) {
            const float height = sign * disc[static_cast<std::size_t>(k)];
            const float *before = in.data(), *after = in.data() + 2 * k;
            float* own = out.data() + k;
            for (std::ptrdiff_t i = 0; i < count - 2 * k; ++i)
                own[i] = pick(own[i], pick(before[i], after[i]) + height);
        }
    }
    std::vector<float> fits_, reaches_, middles_;
    float spread_;
};

/// How much longer a profile is than its level base. A rise this steep is a jump that the steps blur.
double extra_length(const std::vector<float>& profile, double step) {
    constexpr double jump = 4;
    double extra = 0;
    for (std::size_t i = 1; i < profile.size(); ++i)
        if (const double rise = std::abs(profile[i] - profile[i - 1]); rise > 0)
            extra += rise > jump * step ? rise : std::hypot(rise, step) - step;
    return extra;
}

/// Lines that hang out over the layer below sag into it: by part of a layer, and where more than one line hangs by a
/// share of what they span from bank to bank, most in the middle.
class Sag {
public:
    Sag(const Bench& bench, const Field& layers) : bench_(bench), layers_(layers) {}

    /// `above` hangs over the layer below it; `relief` is what has been laid.
    void lower(int above, Field& relief) const {
        const int columns = layers_.grid.columns;
        for (int x = 0; x < columns;) {
            if (hangs(x, above) <= 0) {
                ++x;
                continue;
            }
            int end = x;
            while (end < columns && hangs(end, above) > 0)
                ++end;
            for (int at = x; at < end; ++at)
                fill(at, above, depth(at, x, end, above), relief);
            x = end;
        }
    }

private:
    [[nodiscard]] double hangs(int x, int above) const { return hanging(bench_, layers_, x, above); }
    [[nodiscard]] double depth(int at, int from, int to, int above) const {
        const auto& figures = bench_.figures();
        const double span = (to - from) * layers_.grid.step_x, place = (at - from + 0.5) / (to - from);
        const double loose = std::min(1.0, hangs(at, above) / std::max(bench_.held_mm(), 1e-6));
        // The first line that hangs is held by the one beside it all along; those beyond span from bank to bank.
        const double free = std::clamp(hangs(at, above) / bench_.line_width() - 1, 0.0, 1.0);
        return figures.ledge_sag.value * bench_.bands[static_cast<std::size_t>(above)].width() * loose +
               figures.bridge_sag.value * span * 4 * place * (1 - place) * free;
    }
    void fill(int x, int above, double sag, Field& relief) const {
        const float height = layers_.at(x, above);
        const auto rows = static_cast<int>(std::lround(sag / relief.grid.step_y));
        const int top = bench_.bands[static_cast<std::size_t>(above)].first_row - 1;
        for (int row = top; row > top - rows && row >= 0 && relief.at(x, row) < height; --row)
            relief.at(x, row) = height;
    }

    const Bench& bench_;
    const Field& layers_;
};

/// Depth of the groove between two layers, and the step of one over the other on a slope, at a place in a layer.
float surface_texture(const Bench& bench, const Band& band, double place) {
    const double layer = bench.process->layer_height_mm.value, from_middle = std::abs(place - 0.5) * 2;
    const double groove = bench.figures().ripple.value * layer * from_middle * from_middle;
    const double sine = std::min(1.0, layer / band.width());
    return static_cast<float>(layer * std::sqrt(1 - sine * sine) * (0.5 - place) - groove);
}

} // namespace

Result<Profiles> profiles(const Bench& bench, const Progress& progress) {
    const auto layers = static_cast<int>(bench.bands.size());
    Grid grid = bench.grid;
    grid.rows = layers;
    grid.step_y = bench.bands.front().width(); // nominal
    Field out(grid);
    std::vector<double> extra(static_cast<std::size_t>(layers));
    const double step = grid.step_x / finer, spread = bench.figures().bead_spread_mm.value;
    const double radius = (bench.raised() ? bench.figures().least_line_mm.value : bench.line_width()) / 2;
    const auto planned = static_cast<float>((bench.raised() ? 1 : -1) * bench.standing.depth.value);
    const LevelCuts cuts(bench.polygons, grid.step_y);
    const auto pad = static_cast<std::size_t>(std::ceil((radius + spread) / step)) + 2;
    const std::size_t fine = static_cast<std::size_t>(grid.columns) * finer;
    // Layers do not know of each other here.
    struct Tools {
        LineFitter fitter;
        std::vector<float> profile;
    };
    std::vector<Tools> tools(most_workers(), {LineFitter(radius, spread, step), {}});
    side_by_side(static_cast<std::size_t>(layers), [&](std::size_t layer, std::size_t worker) {
        if (progress.cancelled()) return;
        auto& [fitter, profile] = tools[worker];
        const std::vector<double> at = cuts.at(bench.bands[layer].middle());
        if (at.size() < 2) return;
        profile.assign(fine + 2 * pad, 0.0F);
        const std::span<float> inner(profile.data() + pad, fine);
        for (std::size_t i = 0; i + 1 < at.size(); i += 2)
            add_span(inner, (at[i] - grid.low.x) / step, (at[i + 1] - grid.low.x) / step, planned);
        fitter.run(profile);
        extra[layer] = extra_length(profile, step);
        for (int x = 0; x < grid.columns; ++x) {
            float sum = 0;
            for (std::size_t k = 0; k < finer; ++k)
                sum += profile[pad + static_cast<std::size_t>(x) * finer + k];
            out.at(x, static_cast<int>(layer)) = sum / finer;
        }
    });
    if (progress.cancelled()) return fail(std::string(cancelled_code), "Cancelled.");
    return Profiles{blurred(std::move(out), bench.smoothing_mm(), 0), std::move(extra)};
}

double hanging(const Bench& bench, const Field& layers, int column, int layer) {
    return layers.at(column, layer) - layers.at(column, layer - 1) - bench.held_mm();
}

Status print_layered(const Bench& bench, Printed& out, const Progress& progress) {
    const Result<Profiles> carried = profiles(bench, progress);
    if (!carried) return std::unexpected(carried.error());
    const Field& layers = carried->heights;
    out.relief = Field(bench.grid);
    out.depth = bench.standing.depth.value;
    const int count = layers.grid.rows;
    for (int layer = 0; layer < count; ++layer) {
        const Band& band = bench.bands[static_cast<std::size_t>(layer)];
        for (int row = band.first_row; row < band.end_row; ++row)
            std::copy_n(&layers.values[layers.grid.index(0, layer)], bench.grid.columns, &out.relief.at(0, row));
    }
    const Sag sag(bench, layers);
    for (int layer = 1; layer < count; ++layer)
        sag.lower(layer, out.relief);
    const Box2 box = geometry::bounds(bench.outline);
    out.layers = static_cast<int>(std::ranges::count_if(
        bench.bands, [&](const Band& band) { return band.middle() > box.low.y && band.middle() < box.high.y; }));
    if (bench.standing.mode == Mode::hidden) {
        for (float& height : out.relief.values)
            height = std::max(0.0F, -height);
        return {};
    }
    for (const Band& band : bench.bands)
        for (int row = band.first_row; row < band.end_row; ++row) {
            const double place = (row - band.first_row + 0.5) / (band.end_row - band.first_row);
            const float texture = surface_texture(bench, band, place);
            for (int x = 0; x < bench.grid.columns; ++x)
                out.relief.at(x, row) += texture;
        }
    return {};
}

} // namespace touchmark::print

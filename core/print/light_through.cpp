// SPDX-License-Identifier: MIT
#include "core/print/light_through.h"

#include <algorithm>
#include <cmath>
#include <mutex>

namespace touchmark::print {
namespace {

/// Means of a field over and beside the mark, within a box that is turned with it.
double contrast_in(const Printed& printed, const Field& glow, const Box2& piece) {
    constexpr double beside = 0.4; // of the piece's lesser side: what is seen together with it
    const double margin = beside * std::min(piece.width(), piece.height());
    const Box2 box = piece.widened(margin);
    double bright = 0, dark = 0;
    std::size_t on = 0, off = 0;
    Box2 turned;
    for (const Vec2 corner : box.corners())
        turned.add(printed.from_mark(corner));
    const Grid& grid = glow.grid;
    const auto cell = [](double at, double low, double step, int count) {
        return std::clamp(static_cast<int>(std::floor((at - low) / step)), 0, count - 1);
    };
    for (int y = cell(turned.low.y, grid.low.y, grid.step_y, grid.rows);
         y <= cell(turned.high.y, grid.low.y, grid.step_y, grid.rows); ++y)
        for (int x = cell(turned.low.x, grid.low.x, grid.step_x, grid.columns);
             x <= cell(turned.high.x, grid.low.x, grid.step_x, grid.columns); ++x) {
            const bool mark = printed.ideal.at(x, y) >= 0.5F;
            (mark ? bright : dark) += glow.at(x, y);
            ++(mark ? on : off);
        }
    if (on == 0 || off == 0) return 0;
    return michelson(bright / static_cast<double>(on), dark / static_cast<double>(off));
}

} // namespace

double LightThrough::least_contrast() const {
    return contrast.empty() ? 1 : *std::ranges::min_element(contrast);
}

double LightThrough::dimmest(const process::Printing& figures) const {
    return transmission(figures, thickest_mm);
}

double log_transmission(const process::Printing& figures, double thickness_mm) {
    const auto& wedge = figures.wedge;
    if (wedge.size() < 2) return -figures.attenuation_per_mm.value * thickness_mm / std::log(10.0);
    auto next = std::ranges::lower_bound(wedge, thickness_mm, {}, &process::WedgeStep::thickness_mm);
    next = std::clamp(next, wedge.begin() + 1, wedge.end() - 1);
    const process::WedgeStep &a = *(next - 1), &b = *next;
    const double t = (thickness_mm - a.thickness_mm) / (b.thickness_mm - a.thickness_mm);
    return std::min(0.0, a.log_transmission + t * (b.log_transmission - a.log_transmission));
}

double transmission(const process::Printing& figures, double thickness_mm) {
    return std::pow(10.0, log_transmission(figures, thickness_mm));
}

double michelson(double bright, double dark) {
    return bright + dark > 0 ? (bright - dark) / (bright + dark) : 0;
}

LightThrough light_through(const Printed& printed, Field thickness, double cover_mm, const process::Printing& figures,
                           std::span<const Box2> pieces) {
    LightThrough out;
    out.measured = figures.wedge.size() >= 2;
    const Grid& grid = printed.relief.grid;
    out.glow = Field(grid);
    out.thinnest_mm = std::numeric_limits<double>::infinity();
    std::mutex extremes;
    in_rows(grid, [&](int first, int last) {
        double thinnest = out.thinnest_mm, thickest = 0;
        for (int y = first; y < last; ++y)
            for (int x = 0; x < grid.columns; ++x) {
                const double wall = thickness.value(grid.middle(x, y));
                out.glow.at(x, y) = static_cast<float>(
                    transmission(figures, std::max(0.0, wall - static_cast<double>(printed.relief.at(x, y)))));
                if (printed.ideal.at(x, y) < 0.5F) continue;
                thinnest = std::min(thinnest, wall);
                thickest = std::max(thickest, wall);
            }
        const std::lock_guard lock(extremes);
        out.thinnest_mm = std::min(out.thinnest_mm, thinnest);
        out.thickest_mm = std::max(out.thickest_mm, thickest);
    });
    out.thickness = std::move(thickness);
    const double sigma = figures.scatter.value * cover_mm;
    out.glow = blurred(std::move(out.glow), sigma, sigma);
    for (const Box2& piece : pieces)
        out.contrast.push_back(contrast_in(printed, out.glow, piece));
    return out;
}

} // namespace touchmark::print

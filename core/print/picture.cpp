// SPDX-License-Identifier: MIT
#include "core/print/picture.h"

#include "core/print/distances.h"
#include "core/print/fidelity.h"

#include <algorithm>
#include <cmath>
#include <optional>

namespace touchmark::print {
namespace {

constexpr double least_departure = 0.08; // mm that a departure is wide: rounded edges are none

/// The relief's frame turned back to the mark's.
class Frame {
public:
    Frame(const Printed& printed, double pixels_a_mm) : map_(printed.from_mark), scale_(pixels_a_mm) {
        const Grid& grid = printed.relief.grid;
        const Box2 whole{grid.low, grid.low + Vec2{grid.columns * grid.step_x, grid.rows * grid.step_y}};
        for (const Vec2 corner : whole.corners())
            box_.add(printed.to_mark(corner));
    }
    [[nodiscard]] int width() const { return std::max(1, static_cast<int>(box_.width() * scale_)); }
    [[nodiscard]] int height() const { return std::max(1, static_cast<int>(box_.height() * scale_)); }
    /// The grid's place of a pixel's middle.
    [[nodiscard]] Vec2 place(int x, int y) const {
        return map_({box_.low.x + (x + 0.5) / scale_, box_.high.y - (y + 0.5) / scale_});
    }
    [[nodiscard]] Vec2 turned(Vec2 direction) const {
        return {map_.xx * direction.x + map_.xy * direction.y, map_.yx * direction.x + map_.yy * direction.y};
    }

private:
    geometry::Affine map_;
    double scale_;
    Box2 box_;
};

/// Of the light that falls on a matt surface; 1 on the face itself.
double shade(const Field& relief, Vec2 at, const Vec3& to_light) {
    const double step = std::max(relief.grid.step_x, relief.grid.step_y);
    const double dx = (relief.value(at + Vec2{step, 0}) - relief.value(at - Vec2{step, 0})) / (2 * step);
    const double dy = (relief.value(at + Vec2{0, step}) - relief.value(at - Vec2{0, step})) / (2 * step);
    const double across = (to_light.z - dx * to_light.x - dy * to_light.y) / std::sqrt(1 + dx * dx + dy * dy);
    return std::max(0.0, across) / to_light.z;
}

std::array<std::uint8_t, 3> grey(double share) {
    const auto level = static_cast<std::uint8_t>(std::lround(255 * std::clamp(share, 0.0, 1.0)));
    return {level, level, level};
}

constexpr double beside = 0.35; // mm from what came out up to where a stroke's own rounded edge is

Field to_what_came_out(const Printed& printed, Mode mode) {
    const double enough = mode == Mode::hidden ? void_came_out : relief_came_out;
    std::vector<char> missing;
    missing.reserve(printed.relief.values.size());
    for (std::size_t i = 0; i < printed.relief.values.size(); ++i)
        missing.push_back(!(printed.ideal.values[i] >= 0.5F &&
                            printed.retained(static_cast<double>(printed.relief.values[i])) >= enough));
    return distances(printed.relief.grid, missing);
}

} // namespace

Departures::Departures(const Printed& printed, Mode mode)
    : printed_(printed), to_what_came_out_(to_what_came_out(printed, mode)) {}

bool Departures::lost(Vec2 at) const {
    return printed_.ideal.value(at) >= 0.5 && to_what_came_out_.value(at) > beside;
}

bool Departures::fused(Vec2 at) const {
    for (const Vec2 off : {Vec2{0, 0}, Vec2{1, 0}, Vec2{-1, 0}, Vec2{0, 1}, Vec2{0, -1}}) {
        const Vec2 p = at + off * least_departure;
        if (printed_.ideal.value(p) >= 0.5 || printed_.retained(printed_.relief.value(p)) < 0.5) return false;
    }
    return true;
}

Picture picture_of(const Printed& printed, Mode mode, const process::Printing& figures, double pixels_a_mm,
                   bool mark_departures, const Light& light) {
    const Frame frame(printed, pixels_a_mm);
    std::optional<Departures> departures;
    if (mark_departures) departures.emplace(printed, mode);
    Picture out{frame.width(), frame.height(), {}};
    out.pixels.reserve(static_cast<std::size_t>(out.width) * static_cast<std::size_t>(out.height));
    const double low = light.elevation.radians();
    const Vec2 flat = frame.turned({std::cos(light.from.radians()), std::sin(light.from.radians())});
    const Vec3 to_light{flat.x * std::cos(low), flat.y * std::cos(low), std::sin(low)};
    constexpr double face = 0.6, ambient = 0.45;
    const double brightest = std::exp(figures.attenuation_per_mm.value * printed.depth);
    for (int y = 0; y < out.height; ++y)
        for (int x = 0; x < out.width; ++x) {
            const Vec2 at = frame.place(x, y);
            if (departures && departures->lost(at))
                out.pixels.push_back(lost_colour);
            else if (departures && departures->fused(at))
                out.pixels.push_back(fused_colour);
            else if (mode == Mode::hidden)
                out.pixels.push_back(
                    grey(std::exp(figures.attenuation_per_mm.value * printed.relief.value(at)) / brightest));
            else
                out.pixels.push_back(grey(face * (ambient + (1 - ambient) * shade(printed.relief, at, to_light))));
        }
    return out;
}

} // namespace touchmark::print

// SPDX-License-Identifier: MIT
#include "core/imprint/wall_lines.h"

#include <algorithm>
#include <cmath>

namespace touchmark::imprint {
namespace {

std::vector<WallLevel> levels_of(const WallShape& shape) {
    std::vector<WallLevel> levels{{0, 0}};
    for (const WallBand& band : bands_of(shape)) {
        const int parts = band.round ? 5 : 1;
        for (int k = 1; k <= parts; ++k)
            levels.push_back(band.at(band.q_from + (band.q_to - band.q_from) * k / parts));
    }
    return levels;
}

int parts_of(const geometry::Segment& segment, double flat) {
    if (segment.degree == 1) return 1;
    const double control = distance(segment.points[0], segment.points[1]) + distance(segment.points[1], segment.end());
    return std::clamp(static_cast<int>(std::ceil(std::sqrt(control / (8 * flat)))), 2, 32);
}

} // namespace

std::optional<std::vector<WallLine>> wall_lines(const geometry::Contour& contour, const WallShape& shape, double flat) {
    const geometry::InsetContour inset(contour);
    std::vector<WallLine> lines;
    for (const WallLevel& level : levels_of(shape)) {
        WallLine& line = lines.emplace_back();
        line.depth = level.depth;
        for (std::size_t i = 0; i < inset.sides().size(); ++i) {
            const geometry::InsetJoint& joint = inset.joints()[i];
            if (joint.kind == geometry::InsetJoint::Kind::open) {
                const int parts = std::max(1, static_cast<int>(std::ceil(std::abs(joint.turn) / 0.4)));
                for (int k = 0; k < parts; ++k) {
                    const double angle = joint.turn * k / parts, c = std::cos(angle), s = std::sin(angle);
                    const Vec2 way{c * joint.before.x - s * joint.before.y, s * joint.before.x + c * joint.before.y};
                    line.points.push_back(joint.corner + way * level.inset);
                }
            }
            const auto range = inset.range(i, level.inset);
            if (!range || range->from >= range->to) return std::nullopt;
            const geometry::InsetSide& side = inset.sides()[i];
            const int parts = parts_of(side.curve, flat);
            for (int k = 0; k < parts; ++k) {
                const double t = range->from + (range->to - range->from) * k / parts;
                if (side.speed(t, level.inset) < 0) return std::nullopt;
                line.points.push_back(side.at(t, level.inset));
            }
        }
    }
    return lines;
}

} // namespace touchmark::imprint

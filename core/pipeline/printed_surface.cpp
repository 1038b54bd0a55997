// SPDX-License-Identifier: MIT
#include "core/pipeline/printed_surface.h"

#include "core/print/picture.h"

#include <algorithm>
#include <cmath>

namespace touchmark::pipeline {
namespace {

constexpr double border = 1;      // mm about the mark
constexpr double flatness = 5e-3; // mm, of the planned outline's polygons
constexpr int lid_every = 8;      // points of the surface to one of the lid

std::array<float, 3> floats(Vec3 v) {
    return {static_cast<float>(v.x), static_cast<float>(v.y), static_cast<float>(v.z)};
}

/// Points in rows over the mark's box.
struct Raster {
    Box2 box; ///< mark mm
    int columns = 0, rows = 0;

    [[nodiscard]] Vec2 at(int column, int row) const {
        return {box.low.x + box.width() * column / (columns - 1), box.low.y + box.height() * row / (rows - 1)};
    }
};

Raster raster_of(const print::Printed& printed, const Box2& mark, double about, std::size_t most_points) {
    Raster out;
    out.box = mark.widened(about);
    const double finest = std::max(printed.relief.grid.step_x, printed.relief.grid.step_y);
    const double step =
        std::max(finest, std::sqrt(out.box.width() * out.box.height() / static_cast<double>(most_points)));
    out.columns = std::max(2, static_cast<int>(out.box.width() / step) + 1);
    out.rows = std::max(2, static_cast<int>(out.box.height() / step) + 1);
    return out;
}

/// Two triangles between each four points; `every`: of the raster's points.
void fill(part::FaceMesh& mesh, int columns, int rows) {
    const auto index = [&](int x, int y) { return static_cast<std::uint32_t>(y * columns + x); };
    for (int y = 0; y + 1 < rows; ++y)
        for (int x = 0; x + 1 < columns; ++x) {
            mesh.triangles.push_back({index(x, y), index(x + 1, y), index(x + 1, y + 1)});
            mesh.triangles.push_back({index(x, y), index(x + 1, y + 1), index(x, y + 1)});
        }
}

Shown shown_at(const print::Printed& printed, const print::Departures& departures, Vec2 at) {
    if (departures.lost(at)) return Shown::lost;
    if (departures.fused(at)) return Shown::fused;
    return printed.retained(printed.relief.value(at)) >= 0.5 ? Shown::mark : Shown::face;
}

/// How far about the mark its face goes on; the box may turn with the anchor.
double room_about(const Box2& mark, const surface::FaceMap& map, const geometry::Affine& place) {
    const std::vector<geometry::Polygon> room = geometry::flattened(map.room(), 0.05);
    double least = border;
    for (const Vec2 corner : mark.corners())
        for (const geometry::Polygon& polygon : room)
            least = std::min(least, geometry::distance_to_boundary(polygon, place(corner)));
    return 0.7 * least; // to the corner of the border, not to its side
}

} // namespace

PrintedSurface printed_surface(const print::PrintedMark& mark_as_printed, const job::Mark& mark,
                               const surface::FaceMap& map, const geometry::Outline& drawn, std::size_t most_points) {
    const print::Printed& printed = mark_as_printed.printed;
    const geometry::Affine place = surface::placement(mark.anchor.at, mark.anchor.turn);
    const Box2 box = geometry::bounds(drawn);
    const Raster raster = raster_of(printed, box, room_about(box, map, place), most_points);
    const bool hidden = mark.mode == Mode::hidden;
    const float peak = mark_as_printed.light ? *std::ranges::max_element(mark_as_printed.light->glow.values) : 1;

    const print::Departures departures(printed, mark.mode);
    PrintedSurface out;
    for (int row = 0; row < raster.rows; ++row)
        for (int column = 0; column < raster.columns; ++column) {
            const Vec2 on_mark = raster.at(column, row), on_grid = printed.from_mark(on_mark), on_face = place(on_mark);
            const double rise = hidden ? 0 : printed.relief.value(on_grid);
            out.surface.points.push_back(floats(map.point(on_face) + map.normal(on_face) * rise));
            out.shown.push_back(shown_at(printed, departures, on_grid));
            if (mark_as_printed.light)
                out.glow.push_back(static_cast<float>(mark_as_printed.light->glow.value(on_grid)) / peak);
        }
    fill(out.surface, raster.columns, raster.rows);
    const auto& points = out.surface.points;
    for (int row = 0; row < raster.rows; ++row)
        for (int column = 0; column < raster.columns; ++column) {
            const auto at = [&](int x, int y) {
                x = std::clamp(x, 0, raster.columns - 1), y = std::clamp(y, 0, raster.rows - 1);
                const auto& p = points[static_cast<std::size_t>(y * raster.columns + x)];
                return Vec3{p[0], p[1], p[2]};
            };
            const Vec3 normal =
                cross(at(column + 1, row) - at(column - 1, row), at(column, row + 1) - at(column, row - 1));
            out.surface.normals.push_back(floats(normal * (1 / std::max(1e-12, length(normal)))));
        }

    Raster coarse = raster;
    coarse.columns = std::max(2, raster.columns / lid_every);
    coarse.rows = std::max(2, raster.rows / lid_every);
    for (int row = 0; row < coarse.rows; ++row)
        for (int column = 0; column < coarse.columns; ++column) {
            const Vec2 on_face = place(coarse.at(column, row));
            out.lid.points.push_back(floats(map.point(on_face)));
            out.lid.normals.push_back(floats(map.normal(on_face)));
        }
    fill(out.lid, coarse.columns, coarse.rows);
    for (const geometry::Polygon& polygon : geometry::flattened(drawn, flatness)) {
        auto& edge = out.surface.edges.emplace_back();
        for (const Vec2 p : polygon)
            edge.push_back(floats(map.point(place(p))));
        edge.push_back(edge.front());
    }
    return out;
}

} // namespace touchmark::pipeline

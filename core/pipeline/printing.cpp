// SPDX-License-Identifier: MIT
#include "core/pipeline/printing.h"

#include "core/base/parallel.h"
#include "core/content/code.h"
#include "core/content/variables.h"
#include "core/imprint/material_along.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace touchmark::pipeline {
namespace {

constexpr double thickness_step = 0.25; // mm between places where the wall behind a hidden mark is measured

geometry::Affine back_to_mark(const print::Printed& printed) {
    const geometry::Affine& a = printed.from_mark; // a rotation: its transpose turns back
    return {a.xx, a.yx, a.xy, a.yy, {}};
}

/// As large as the printed one, with cells of `step`.
print::Grid coarse(const print::Grid& fine, double step) {
    print::Grid grid = fine;
    const double width = fine.columns * fine.step_x, height = fine.rows * fine.step_y;
    grid.columns = std::max(1, static_cast<int>(std::ceil(width / step)));
    grid.rows = std::max(1, static_cast<int>(std::ceil(height / step)));
    grid.step_x = width / grid.columns;
    grid.step_y = height / grid.rows;
    return grid;
}

Status look_at_code(const PrintOrder& order, const content::Code& code, print::PrintedMark& out,
                    const Progress& progress) {
    const auto modules = content::marked_modules(code, *order.drawn);
    if (!modules) return std::unexpected(modules.error());
    out.modules = print::count_modules(out.printed, modules->grid, modules->size, modules->centre, modules->filled);
    out.bearable_share = print::bearable_share(code.symbology, code.level);
    const Vec2 half{modules->grid.columns * modules->size.width / 2, modules->grid.rows * modules->size.height / 2};
    const Box2 symbol{modules->centre - half, modules->centre + half};
    auto reading =
        print::read_code(out.printed, order.mark->mode, out.light ? &*out.light : nullptr, code, symbol, progress);
    if (!reading) return std::unexpected(reading.error());
    out.reading = *std::move(reading);
    return {};
}

/// Along `up`, from beneath the mark to over it; empty where the face is straight that way. What is nearly level rises
/// a little all the same: layers there would have no end.
print::Rise rise_over(const PrintOrder& order, Vec2 up) {
    constexpr double step = 0.5, least_slope = 0.1, straight = 0.01; // mm, and of a height in mm
    const job::Mark& mark = *order.mark;
    if (order.map->kind() == part::FaceKind::plane || order.drawn->outline.empty()) return {};
    const geometry::Affine place = surface::placement(mark.anchor.at, mark.anchor.turn);
    const auto height_at = [&](double along) { return order.placement(order.map->point(place(up * along))).z; };
    double low = 0, high = 0;
    const Box2& box = order.drawn->extent;
    for (const Vec2 corner : box.corners())
        low = std::min(low, dot(corner, up)), high = std::max(high, dot(corner, up));
    const auto below = static_cast<int>(std::ceil(-low / step)), above = static_cast<int>(std::ceil(high / step));
    const double origin = height_at(0), slope = (height_at(step / 2) - height_at(-step / 2)) / step;
    print::Rise rise{-below * step, step, {}};
    bool bent = false;
    for (int i = -below; i <= above; ++i) {
        const double height = height_at(i * step) - origin;
        bent = bent || std::abs(height - slope * i * step) > straight;
        rise.heights.push_back(height);
    }
    if (!bent || rise.heights.size() < 2) return {};
    // From the origin on either way.
    const auto middle = static_cast<std::size_t>(below);
    for (std::size_t i = middle + 1; i < rise.heights.size(); ++i)
        rise.heights[i] = std::max(rise.heights[i], rise.heights[i - 1] + least_slope * step);
    for (std::size_t i = middle; i-- > 0;)
        rise.heights[i] = std::min(rise.heights[i], rise.heights[i + 1] - least_slope * step);
    for (double& height : rise.heights)
        height = std::round(height * 1e3) / 1e3; // marks alike share their print
    return rise;
}

} // namespace

PrintOrder order_of(const Evaluation& evaluation, std::size_t mark) {
    const MarkEvaluation& own = evaluation.marks[mark];
    return {&evaluation.job.marks[mark], {}, own.drawn, own.map, own.zone, own.wall_mm, evaluation.placement, {}, 0};
}

print::Standing standing_of(const PrintOrder& order, const process::Process& process) {
    const job::Mark& mark = *order.mark;
    const surface::FaceMap& map = *order.map;
    const Vec2 at = mark.anchor.at;
    const Vec3 normal = map.normal(at), x = map.x_direction(at), up = order.placement.back({0, 0, 1});
    const Vec2 on_face{dot(up, x), dot(up, cross(normal, x))};
    print::Standing standing;
    standing.mode = mark.mode;
    standing.zone = order.zone;
    standing.depth = order.wall_mm ? Mm(*order.wall_mm) : mark.depth;
    standing.incline = Degrees(std::acos(std::clamp(dot(normal, up), -1.0, 1.0)) * 180 / std::numbers::pi);
    const double steep = length(on_face); // the sine of the incline
    if (steep < 1e-6) return standing;
    standing.up = geometry::Affine::rotation(-mark.anchor.turn.radians())(on_face * (1 / steep));
    const double height = order.placement(map.point(at)).z;
    // The layers repeat: only where one begins counts, to a hundredth of one.
    const double layer = process.layer_height_mm.value, first = process.first_layer_mm.value - height;
    constexpr double parts = 100;
    if (print::is_layered(order.zone)) standing.rise = rise_over(order, standing.up);
    standing.first_layer_at =
        Mm(std::round((first - std::floor(first / layer) * layer) / layer * parts) / parts * layer / steep);
    return standing;
}

print::Field thickness_behind(const PrintOrder& order, const print::Grid& grid, const geometry::Affine& to_mark) {
    const Vec2 anchor = order.mark->anchor.at;
    const geometry::Affine place = surface::placement(anchor, order.mark->anchor.turn);
    const Vec3 way = -order.map->normal(anchor);
    // A curved face's mesh lies beside it.
    const double clear =
        1e-3 + (order.map->kind() == part::FaceKind::plane ? 0 : 2 * order.obstacles->mesh_tolerance());
    const imprint::TriangleTree& mesh = order.obstacles->mesh_of(order.body);
    print::Field out(grid);
    side_by_side(static_cast<std::size_t>(grid.rows), [&](std::size_t at_row, std::size_t) {
        const auto row = static_cast<int>(at_row);
        for (int column = 0; column < grid.columns; ++column) {
            const Vec3 at = order.map->point(place(to_mark(grid.middle(column, row))));
            out.at(column, row) = static_cast<float>(imprint::material_along(mesh, at - way * clear, way));
        }
    });
    return out;
}

Result<print::PrintedMark> print_mark(const PrintOrder& order, const process::Process& process,
                                      const Progress& progress) {
    print::PrintedMark out;
    out.standing = standing_of(order, process);
    auto printed = print::simulate(order.drawn->outline, out.standing, process, progress);
    if (!printed) return std::unexpected(printed.error());
    out.printed = *std::move(printed);

    const auto* code = std::get_if<content::Code>(&order.said);
    std::vector<Box2> boxes;
    for (std::size_t i = code ? 1 : 0; i < order.drawn->pieces.size(); ++i)
        if (const content::Piece& piece = order.drawn->pieces[i]; piece.region_count > 0) {
            out.pieces.push_back({piece.label, piece.extent, {}});
            boxes.push_back(piece.extent);
        }
    if (progress.cancelled()) return fail(std::string(cancelled_code), "Cancelled.");
    const std::vector<print::Fidelity> figures = print::fidelity_of(
        out.printed, boxes, order.mark->mode == Mode::hidden ? print::void_came_out : print::relief_came_out);
    for (std::size_t i = 0; i < figures.size(); ++i)
        out.pieces[i].fidelity = figures[i];
    if (order.mark->mode == Mode::hidden && order.obstacles) {
        if (code && !order.drawn->pieces.empty()) boxes.insert(boxes.begin(), order.drawn->pieces.front().extent);
        if (progress.cancelled()) return fail(std::string(cancelled_code), "Cancelled.");
        out.light = print::light_through(
            out.printed,
            thickness_behind(order, coarse(out.printed.relief.grid, thickness_step), back_to_mark(out.printed)),
            order.mark->cover.value, *process.printing, boxes);
    }
    if (code)
        if (const Status looked = look_at_code(order, *code, out, progress); !looked)
            return std::unexpected(looked.error());
    return out;
}

Result<print::PrintedMark> print_mark(const Evaluation& evaluation, std::size_t index, const process::Process& process,
                                      const Progress& progress) {
    const MarkEvaluation& own = evaluation.marks[index];
    if (!own.drawn || !own.map)
        return fail("pipeline.not_drawn", "The mark \"" + own.mark + "\" has no outline or no face to print it on.",
                    "See its findings.");
    const auto said = content::expanded(evaluation.job.marks[index].content, evaluation.job.variables, {});
    if (!said) return std::unexpected(said.error());
    PrintOrder order = order_of(evaluation, index);
    order.said = *said;
    return print_mark(order, process, progress);
}

} // namespace touchmark::pipeline

// SPDX-License-Identifier: MIT
#include "core/content/svg_shapes.h"

#include "core/content/arcs.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace touchmark::content::svg {
namespace {

using geometry::Affine;
using geometry::Segment;

/// Lengths of one element by attribute.
struct Lengths {
    const Element& element;
    const Room& room;

    [[nodiscard]] std::optional<double> find(const char* key) const {
        const bool across = std::string_view(key).find_first_of("xw") != std::string_view::npos;
        const double diagonal = std::hypot(room.width, room.height) / std::numbers::sqrt2;
        const double whole = std::string_view(key) == "r" ? diagonal : across ? room.width : room.height;
        return parse_length(element.attribute(key), {whole, room.font_size});
    }
    [[nodiscard]] double operator[](const char* key) const { return find(key).value_or(0); }
};

SubPath polygon_through(std::span<const Vec2> points, bool closed) {
    SubPath path{points.front(), {}, closed};
    for (std::size_t i = 1; i < points.size(); ++i)
        path.segments.push_back(Segment::line(points[i - 1], points[i]));
    if (closed && !(points.back() == points.front())) path.segments.push_back(Segment::line(points.back(), points[0]));
    return path;
}

std::vector<SubPath> ellipse(Vec2 centre, double rx, double ry) {
    if (!(rx > 0) || !(ry > 0)) return {};
    SubPath path{centre + Vec2{rx, 0}, {}, true};
    path.segments = arc(0, 2 * std::numbers::pi, Affine::translation(centre) * Affine{rx, 0, 0, ry, {}});
    path.segments.front().points[0] = path.start;
    path.segments.back().points[3] = path.start;
    return {path};
}

std::vector<SubPath> rectangle(const Lengths& of) {
    const double x = of["x"], y = of["y"], w = of["width"], h = of["height"];
    if (!(w > 0) || !(h > 0)) return {};
    auto rx = of.find("rx"), ry = of.find("ry");
    if (!rx) rx = ry;
    if (!ry) ry = rx;
    const double a = std::clamp(rx.value_or(0), 0.0, w / 2), b = std::clamp(ry.value_or(0), 0.0, h / 2);
    if (a == 0 || b == 0) {
        const Vec2 corners[] = {{x, y}, {x + w, y}, {x + w, y + h}, {x, y + h}};
        return {polygon_through(corners, true)};
    }
    SubPath path{{x + a, y}, {}, true};
    Vec2 at = path.start;
    const auto line_to = [&](Vec2 to) {
        if (!(at == to)) path.segments.push_back(Segment::line(at, to));
        at = to;
    };
    const auto corner = [&](Vec2 to) {
        for (const Segment& segment : arc({at, to, a, b, 0, false, true}))
            path.segments.push_back(segment);
        at = to;
    };
    line_to({x + w - a, y}), corner({x + w, y + b});
    line_to({x + w, y + h - b}), corner({x + w - a, y + h});
    line_to({x + a, y + h}), corner({x, y + h - b});
    line_to({x, y + b}), corner({x + a, y});
    return {path};
}

} // namespace

bool is_shape(std::string_view element) {
    constexpr std::string_view names[] = {"path", "rect", "circle", "ellipse", "line", "polyline", "polygon"};
    return std::ranges::find(names, element) != std::end(names);
}

PathData shape_of(const Element& element, const Room& room) {
    const Lengths of{element, room};
    if (element.name == "path") return parse_path(element.attribute("d"));
    if (element.name == "rect") return {rectangle(of)};
    if (element.name == "circle") return {ellipse({of["cx"], of["cy"]}, of["r"], of["r"])};
    if (element.name == "ellipse") {
        const auto rx = of.find("rx"), ry = of.find("ry");
        return {ellipse({of["cx"], of["cy"]}, rx ? *rx : ry.value_or(0), ry ? *ry : rx.value_or(0))};
    }
    if (element.name == "line") {
        const Vec2 ends[] = {{of["x1"], of["y1"]}, {of["x2"], of["y2"]}};
        return {{polygon_through(ends, false)}};
    }
    const auto numbers = parse_numbers(element.attribute("points"));
    if (!numbers) return {{}, false};
    std::vector<Vec2> points;
    for (std::size_t i = 0; i + 1 < numbers->size(); i += 2)
        points.push_back({(*numbers)[i], (*numbers)[i + 1]});
    if (points.empty()) return {{}, numbers->empty()};
    return {{polygon_through(points, element.name == "polygon")}, numbers->size() % 2 == 0};
}

std::vector<geometry::Contour> closed_contours(const std::vector<SubPath>& paths, const Affine& map) {
    std::vector<geometry::Contour> contours;
    for (const SubPath& path : paths) {
        geometry::Contour contour;
        for (const Segment& segment : path.segments)
            if (segment.degree > 1 || !(segment.start() == segment.end())) contour.segments.push_back(segment);
        if (contour.segments.empty()) continue;
        const Vec2 start = contour.segments.front().start(), end = contour.segments.back().end();
        if (!(start == end)) contour.segments.push_back(Segment::line(end, start));
        if (contour.segments.size() == 1 && contour.segments.front().degree == 1) continue;
        contours.push_back(geometry::transformed(contour, map));
    }
    return contours;
}

Affine fitted(const Box2& box, double width, double height, std::string_view fit) {
    double sx = width / box.width(), sy = height / box.height();
    if (fit.starts_with("defer ")) fit.remove_prefix(6);
    if (!fit.starts_with("none")) sx = sy = fit.find("slice") != fit.npos ? std::max(sx, sy) : std::min(sx, sy);
    const auto along = [&](const char* low, const char* high) {
        if (fit.starts_with("none") || fit.find(low) != fit.npos) return 0.0;
        return fit.find(high) != fit.npos ? 1.0 : 0.5;
    };
    const Vec2 spare{width - box.width() * sx, height - box.height() * sy};
    const Vec2 shift{spare.x * along("xMin", "xMax"), spare.y * along("YMin", "YMax")};
    return Affine::translation(shift) * Affine{sx, 0, 0, sy, {}} * Affine::translation(box.low * -1.0);
}

} // namespace touchmark::content::svg

// SPDX-License-Identifier: MIT
#include "core/content/svg_values.h"

#include "core/content/arcs.h"

#include <cctype>
#include <numbers>

#include <svgpp/policy/path.hpp>
#include <svgpp/policy/path_events.hpp>

#include <svgpp/parser/path_data.hpp>

// On its own, for the library's grammar takes the compiler as long as the rest of the module.
namespace touchmark::content::svg {
namespace {

using Absolute = svgpp::tag::coordinate::absolute;

/// Hears the library's grammar of path data.
struct Pen {
    std::vector<SubPath> paths;
    Vec2 at;

    SubPath& open() {
        // After a close, drawing goes on from where the closed path began.
        if (paths.empty() || paths.back().closed) paths.push_back({at, {}, false});
        return paths.back();
    }
    void add(const geometry::Segment& segment) {
        open().segments.push_back(segment);
        at = segment.end();
    }
    void path_move_to(double x, double y, Absolute) {
        at = {x, y};
        paths.push_back({at, {}, false});
    }
    void path_line_to(double x, double y, Absolute) { add(geometry::Segment::line(at, {x, y})); }
    void path_cubic_bezier_to(double x1, double y1, double x2, double y2, double x, double y, Absolute) {
        add(geometry::Segment::cubic(at, {x1, y1}, {x2, y2}, {x, y}));
    }
    void path_quadratic_bezier_to(double x1, double y1, double x, double y, Absolute) {
        add(geometry::Segment::quadratic(at, {x1, y1}, {x, y}));
    }
    void path_elliptical_arc_to(double rx, double ry, double degrees, bool large, bool sweep, double x, double y,
                                Absolute) {
        for (const geometry::Segment& segment :
             arc({at, {x, y}, rx, ry, degrees * std::numbers::pi / 180, large, sweep}))
            add(segment);
    }
    void path_close_subpath() {
        if (paths.empty()) return;
        SubPath& path = paths.back();
        if (!(at == path.start)) path.segments.push_back(geometry::Segment::line(at, path.start));
        path.closed = true;
        at = path.start;
    }
    void path_exit() {}
};

/// Errors are told by the return value.
template <class Context> struct Silent {
    using context_type = Context;
    template <class Tag, class Value> static bool parse_failed(Context&, Tag, const Value&) { return false; }
};

} // namespace

PathData parse_path(std::string_view data) {
    while (!data.empty() && std::isspace(static_cast<unsigned char>(data.front())))
        data.remove_prefix(1);
    if (data.empty() || data == "none") return {};
    Pen pen;
    const bool complete = svgpp::value_parser<svgpp::tag::type::path_data, svgpp::error_policy<Silent<Pen>>>::parse(
        svgpp::tag::attribute::d(), pen, data, svgpp::tag::source::attribute());
    return {std::move(pen.paths), complete};
}

} // namespace touchmark::content::svg

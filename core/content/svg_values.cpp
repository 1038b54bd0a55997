// SPDX-License-Identifier: MIT
#include "core/content/svg_values.h"

#include "core/content/arcs.h"

#include <cctype>
#include <charconv>
#include <cmath>
#include <numbers>

#include <svgpp/policy/path.hpp>
#include <svgpp/policy/path_events.hpp>

#include <svgpp/parser/path_data.hpp>
#include <svgpp/parser/transform_list.hpp>

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

struct Matrix {
    geometry::Affine map;
    void transform_matrix(const boost::array<double, 6>& m) { map = {m[0], m[2], m[1], m[3], {m[4], m[5]}}; }
};

/// Errors are told by the return value.
template <class Context> struct Silent {
    using context_type = Context;
    template <class Tag, class Value> static bool parse_failed(Context&, Tag, const Value&) { return false; }
};

struct Unit {
    std::string_view name;
    double pixels;
};
constexpr Unit units[] = {{"px", 1},         {"mm", 96 / 25.4}, {"cm", 960 / 25.4}, {"in", 96},
                          {"pt", 96.0 / 72}, {"pc", 16},        {"q", 24 / 25.4}};

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

namespace {

/// Numbers may follow each other without a separator ("translate(1-2)", SVG 2, 8.4); the library's grammar wants one.
std::string separated(std::string_view text) {
    std::string out;
    bool in_number = false, has_point = false, has_exponent = false;
    for (const char c : text) {
        const bool digit = c >= '0' && c <= '9', sign = c == '-' || c == '+', point = c == '.';
        const bool exponent = in_number && !has_exponent && (c == 'e' || c == 'E');
        const bool after_exponent = !out.empty() && has_exponent && (out.back() == 'e' || out.back() == 'E');
        if (in_number && ((sign && !after_exponent) || (point && (has_point || has_exponent)))) {
            out += ' ';
            has_point = has_exponent = false;
        }
        in_number = digit || sign || point || exponent;
        if (!in_number) has_point = has_exponent = false;
        has_point = has_point || point;
        has_exponent = has_exponent || exponent;
        out += c;
    }
    return out;
}

} // namespace

std::optional<geometry::Affine> parse_transform(std::string_view given) {
    const std::string text = separated(given);
    Matrix matrix;
    if (!svgpp::value_parser<svgpp::tag::type::transform_list, svgpp::error_policy<Silent<Matrix>>>::parse(
            svgpp::tag::attribute::transform(), matrix, text, svgpp::tag::source::attribute()))
        return std::nullopt;
    return matrix.map;
}

namespace {

void skip_space(std::string_view& text) {
    while (!text.empty() && std::isspace(static_cast<unsigned char>(text.front())))
        text.remove_prefix(1);
}

std::optional<double> take_number(std::string_view& text) {
    skip_space(text);
    if (text.starts_with('+')) text.remove_prefix(1);
    double value = 0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
    if (error != std::errc() || !std::isfinite(value)) return std::nullopt;
    text.remove_prefix(static_cast<std::size_t>(end - text.data()));
    return value;
}

} // namespace

std::optional<std::vector<double>> parse_numbers(std::string_view text) {
    std::vector<double> numbers;
    for (skip_space(text); !text.empty(); skip_space(text)) {
        if (!numbers.empty() && text.starts_with(',')) text.remove_prefix(1);
        const auto number = take_number(text);
        if (!number) return std::nullopt;
        numbers.push_back(*number);
    }
    return numbers;
}

std::optional<double> parse_length(std::string_view text, const LengthContext& context) {
    const auto number = take_number(text);
    if (!number) return std::nullopt;
    std::string unit;
    for (const char c : text)
        if (!std::isspace(static_cast<unsigned char>(c)))
            unit += static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
    if (unit.empty()) return number;
    if (unit == "%") return *number * context.percent_of / 100;
    if (unit == "em" || unit == "rem") return *number * context.font_size;
    if (unit == "ex") return *number * context.font_size / 2;
    for (const Unit& row : units)
        if (row.name == unit) return *number * row.pixels;
    return std::nullopt;
}

} // namespace touchmark::content::svg

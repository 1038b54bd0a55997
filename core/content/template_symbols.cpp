// SPDX-License-Identifier: MIT
#include "core/content/arcs.h"
#include "core/content/svg_writer.h"
#include "core/content/templates.h"

#include <charconv>
#include <cmath>
#include <numbers>

namespace touchmark::content {
namespace {

using geometry::Affine;
using geometry::Contour;
using geometry::Outline;
using geometry::Segment;

constexpr double degrees = std::numbers::pi / 180;

std::optional<double> number_in(std::string_view text) {
    double value = 0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
    if (error != std::errc() || end != text.data() + text.size() || !std::isfinite(value)) return std::nullopt;
    return value;
}

/// The drawing goes into the job as SVG, like any other line art.
Content art(std::string name, const Outline& outline, double height) {
    Art made{.name = std::move(name), .drawing = std::make_shared<const Drawing>(to_svg(outline, bounds(outline)))};
    made.scaled_by = ScaledBy::height;
    made.size_mm = height;
    return made;
}

Contour polygon(std::initializer_list<Vec2> points) {
    return geometry::contour_of(std::vector<Vec2>(points));
}
Contour box(double left, double bottom, double right, double top) {
    return polygon({{left, bottom}, {right, bottom}, {right, top}, {left, top}});
}
Contour disc(Vec2 centre, double radius) {
    Contour contour{arc(0, 2 * std::numbers::pi, Affine::translation(centre) * Affine::scale(radius))};
    contour.segments.back().points[3] = contour.segments.front().start();
    return contour;
}

/// A band between two points.
Contour bar(Vec2 from, Vec2 to, double width) {
    const Vec2 along = to - from, aside = Vec2{-along.y, along.x} * (width / 2 / length(along));
    return polygon({from - aside, to - aside, to + aside, from + aside});
}

void line_to(Contour& contour, Vec2 to) {
    contour.segments.push_back(Segment::line(contour.segments.back().end(), to));
}
void arc_to(Contour& contour, Vec2 centre, double radius, double from, double to) {
    for (Segment segment : arc(from, to - from, Affine::translation(centre) * Affine::scale(radius))) {
        if (!contour.segments.empty()) segment.points[0] = contour.segments.back().end();
        contour.segments.push_back(segment);
    }
}
void close(Contour& contour) {
    line_to(contour, contour.segments.front().start());
}

/// Lettering of this cap height, centred on `at`.
Status letter(std::string text, double cap, Vec2 at, const FontLibrary& fonts, std::vector<Contour>& out) {
    const auto drawn = draw(Text{.text = std::move(text), .cap_height = Mm(cap)}, fonts);
    if (!drawn) return std::unexpected(drawn.error());
    geometry::append_contours(transformed(drawn->outline, Affine::translation(at)), out);
    return {};
}

Result<Content> finished(std::string name, std::vector<Contour> contours, double height) {
    auto outline = geometry::outline_from(std::move(contours));
    if (!outline) return std::unexpected(outline.error());
    return art(std::move(name), *outline, height);
}

} // namespace

// On the grid of Annex II, its height 200: rings of radius 100 and 70, their centres 170 apart, cut off 10 beyond their
// centres; the middle bar 30 high, ending 10 short of its centre. From memory.
Result<Content> ce_mark(const TemplateValues& values, const FontLibrary&) {
    const auto height = number_in(values.at("height"));
    if (!height || *height < 5 || *height > 500)
        return bad_value("height", "must be a number from 5 (the least allowed) to 500 mm");
    constexpr double outer = 100, inner = 70, beyond = 10, apart = 170, half_bar = 15;
    const double out_angle = std::acos(beyond / outer), in_angle = std::acos(beyond / inner);
    const double bar_angle = std::numbers::pi - std::asin(half_bar / inner);
    Contour c;
    arc_to(c, {}, outer, out_angle, 2 * std::numbers::pi - out_angle);
    line_to(c, {beyond, -std::sqrt(inner * inner - beyond * beyond)});
    arc_to(c, {}, inner, 2 * std::numbers::pi - in_angle, in_angle);
    close(c);
    Contour e;
    const Vec2 centre{apart, 0};
    arc_to(e, centre, outer, out_angle, 2 * std::numbers::pi - out_angle);
    line_to(e, centre + Vec2{beyond, -std::sqrt(inner * inner - beyond * beyond)});
    arc_to(e, centre, inner, 2 * std::numbers::pi - in_angle, 2 * std::numbers::pi - bar_angle);
    line_to(e, centre + Vec2{-beyond, -half_bar});
    line_to(e, centre + Vec2{-beyond, half_bar});
    line_to(e, centre + Vec2{inner * std::cos(bar_angle), half_bar});
    arc_to(e, centre, inner, bar_angle, in_angle);
    close(e);
    return finished("CE mark", {c, e}, *height);
}

Result<Content> crossed_out_bin(const TemplateValues& values, const FontLibrary&) {
    const auto height = number_in(values.at("height"));
    if (!height || *height < 5 || *height > 500) return bad_value("height", "must be a number from 5 to 500 mm");
    constexpr double pen = 5;
    std::vector<Contour> parts{bar({-30, 78}, {30, 78}, pen),  // lid
                               box(-8, 80, 8, 86),             // its handle
                               bar({-25, 78}, {-20, 22}, pen), // walls, narrowing downwards
                               bar({25, 78}, {20, 22}, pen),
                               bar({-22, 22}, {22, 22}, pen), // floor
                               disc({17, 20}, 7),             // wheel
                               bar({-36, 92}, {36, 14}, pen), // cross
                               bar({36, 92}, {-36, 14}, pen),
                               box(-30, 0, 30, 8)}; // the bar beneath
    return finished("Crossed-out bin", std::move(parts), *height);
}

Result<Content> resin_number(const TemplateValues& values, const FontLibrary& fonts) {
    constexpr std::string_view names[] = {"PETE", "HDPE", "V", "LDPE", "PP", "PS", "OTHER"};
    const std::string& number = values.at("number");
    if (number.size() != 1 || number[0] < '1' || number[0] > '7') return bad_value("number", "must be from 1 to 7");
    // An equilateral triangle about the origin, as a frame: the inner one has 0.7 of its radius.
    constexpr double radius = 10;
    const auto triangle = [](double r, bool hole) {
        std::vector<Vec2> corners;
        for (const double angle : {90.0, 210.0, 330.0})
            corners.push_back(Vec2{std::cos(angle * degrees), std::sin(angle * degrees)} * r);
        const Contour contour = geometry::contour_of(corners);
        return hole ? geometry::reversed(contour) : contour;
    };
    std::vector<Contour> parts{triangle(radius, false), triangle(0.7 * radius, true)};
    if (const Status made = letter(number, 0.42 * radius, {0, -0.05 * radius}, fonts, parts); !made)
        return std::unexpected(made.error());
    const std::string name(names[static_cast<std::size_t>(number[0] - '1')]);
    if (const Status made = letter(name, 0.4 * radius, {0, -0.85 * radius}, fonts, parts); !made)
        return std::unexpected(made.error());
    return finished("Resin " + number + " " + name, std::move(parts), 15);
}

Result<Content> date_dial(const TemplateValues& values, const FontLibrary& fonts) {
    const auto month = number_in(values.at("month")), diameter = number_in(values.at("diameter"));
    const std::string& year = values.at("year");
    if (!month || *month != std::floor(*month) || *month < 1 || *month > 12)
        return bad_value("month", "must be from 1 to 12");
    if ((year.size() != 2 && year.size() != 4) || year.find_first_not_of("0123456789") != year.npos)
        return bad_value("year", "must have two or four figures");
    if (!diameter || *diameter < 5 || *diameter > 500)
        return bad_value("diameter", "must be a number from 5 to 500 mm");
    constexpr double radius = 10;
    std::vector<Contour> parts{disc({}, radius), geometry::reversed(disc({}, 0.94 * radius))};
    const auto towards = [](int hour, double r) { // months stand like the hours of a clock
        return Vec2{std::sin(hour * 30 * degrees), std::cos(hour * 30 * degrees)} * r;
    };
    for (int hour = 1; hour <= 12; ++hour)
        if (const Status made = letter(std::to_string(hour), 0.2 * radius, towards(hour, 0.76 * radius), fonts, parts);
            !made)
            return std::unexpected(made.error());
    if (const Status made = letter(year.substr(year.size() - 2), 0.34 * radius, {}, fonts, parts); !made)
        return std::unexpected(made.error());
    const int chosen = static_cast<int>(*month);
    const Vec2 tip = towards(chosen, 0.6 * radius), foot = towards(chosen, 0.42 * radius);
    const Vec2 along = tip - foot, aside = Vec2{-along.y, along.x} * 0.8;
    parts.push_back(polygon({foot + aside, foot - aside, tip}));
    return finished("Date dial " + year + "-" + std::to_string(chosen), std::move(parts), *diameter);
}

} // namespace touchmark::content

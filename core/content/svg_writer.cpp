// SPDX-License-Identifier: MIT
#include "core/content/svg_writer.h"

#include <charconv>

namespace touchmark::content {
namespace {

void add_number(std::string& out, double value) {
    char text[64];
    const auto [end, error] = std::to_chars(text, text + sizeof text, value, std::chars_format::fixed, 4);
    std::string_view digits(text, static_cast<std::size_t>(end - text));
    while (digits.ends_with('0'))
        digits.remove_suffix(1);
    if (digits.ends_with('.')) digits.remove_suffix(1);
    out += digits == "-0" ? "0" : digits;
}

void add_point(std::string& out, Vec2 p) {
    add_number(out, p.x);
    out += ' ';
    add_number(out, -p.y);
}

void add_contour(std::string& out, const geometry::Contour& contour) {
    if (contour.segments.empty()) return;
    out += 'M';
    add_point(out, contour.segments.front().start());
    for (const geometry::Segment& segment : contour.segments) {
        out += " LQC"[segment.degree];
        for (int i = 1; i <= segment.degree; ++i) {
            if (i > 1) out += ' ';
            add_point(out, segment.points[static_cast<std::size_t>(i)]);
        }
    }
    out += 'Z';
}

} // namespace

std::string path_data(const geometry::Outline& outline) {
    std::string out;
    for (const geometry::Region& region : outline.regions) {
        add_contour(out, region.outer);
        for (const geometry::Contour& hole : region.holes)
            add_contour(out, hole);
    }
    return out;
}

std::string to_svg(const geometry::Outline& outline, const Box2& extent) {
    std::string size, box;
    add_number(size, extent.width());
    std::string height;
    add_number(height, extent.height());
    add_number(box, extent.low.x);
    box += ' ';
    add_number(box, -extent.high.y);
    return "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"" + size + "mm\" height=\"" + height + "mm\" viewBox=\"" +
           box + " " + size + " " + height + "\">\n<path fill-rule=\"nonzero\" d=\"" + path_data(outline) +
           "\"/>\n</svg>\n";
}

} // namespace touchmark::content

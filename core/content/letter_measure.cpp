// SPDX-License-Identifier: MIT
#include "core/content/letter_measure.h"

#include "core/content/piece_outline.h"
#include "core/content/utf8.h"
#include "core/geometry/width.h"

#include <algorithm>
#include <cmath>

namespace touchmark::content {
namespace {

using geometry::Outline;

/// Widens the slices that the line from a to b passes.
void cover(LetterMeasure& measure, Vec2 a, Vec2 b, double cap_height) {
    if (a.y > b.y) std::swap(a, b);
    const double slice = 2 * cap_height / LetterMeasure::slices;
    const auto index = [&](double y) {
        return std::clamp(static_cast<int>(std::floor((y + cap_height / 2) / slice)), 0,
                          static_cast<int>(LetterMeasure::slices) - 1);
    };
    const auto at = [&](double y) {
        return b.y - a.y < 1e-12 ? a.x : a.x + (b.x - a.x) * std::clamp((y - a.y) / (b.y - a.y), 0.0, 1.0);
    };
    for (int i = index(a.y); i <= index(b.y); ++i) {
        const double from = i * slice - cap_height / 2;
        auto [low, high] = std::pair(at(from), at(from + slice));
        if (b.y - a.y < 1e-12) low = a.x, high = b.x;
        auto& left = measure.left[static_cast<std::size_t>(i)];
        auto& right = measure.right[static_cast<std::size_t>(i)];
        left = std::min({left, low, high});
        right = std::max({right, low, high});
    }
}

void measure_shape(LetterMeasure& measure, const Outline& letter, Vec2 origin, double cap_height) {
    for (const geometry::Polygon& polygon : geometry::flattened(letter, cap_height / 100))
        for (std::size_t i = 0; i < polygon.size(); ++i)
            cover(measure, polygon[i] - origin, polygon[(i + 1) % polygon.size()] - origin, cap_height);
    const geometry::Widths widths = geometry::widths(letter);
    if (!widths.strokes.empty()) measure.stroke = widths.strokes.front().width;
    if (!widths.gaps.empty()) measure.gap = widths.gaps.front().width;
}

} // namespace

double LetterMeasure::before_ink() const {
    const double least = *std::ranges::min_element(left);
    return least < none ? least : 0;
}

double LetterMeasure::behind_ink() const {
    const double most = *std::ranges::max_element(right);
    return most > -none ? advance - most : 0;
}

LetterMeasure measure_letter(const Text& style, char32_t letter, const FontLibrary& fonts) {
    LetterMeasure measure;
    measure.left.fill(LetterMeasure::none);
    measure.right.fill(-LetterMeasure::none);
    Text text = style;
    text.arc_radius = Mm(0);
    // Between two others that every face of Latin has: what it moves the second one by is its advance.
    text.text = "HH";
    const auto without = draw(text, fonts);
    text.text = "H" + encode_utf8({&letter, 1}) + "H";
    const auto with = draw(text, fonts);
    if (!with) return measure;
    measure.missing = !with->missing.empty() && with->missing.front().code_point == letter;
    if (without && without->pieces.size() == 2 && with->pieces.size() >= 2) {
        const Box2 &first = with->pieces.front().extent, &last = with->pieces.back().extent;
        const double step = without->pieces[1].extent.low.x - without->pieces[0].extent.low.x;
        measure.advance = last.low.x - first.low.x - step;
        if (with->pieces.size() != 3) return measure; // a blank, or joined
        const Piece& piece = with->pieces[1];
        measure.high = piece.extent.high.y - first.low.y;
        measure.low = piece.extent.low.y - first.low.y;
        measure_shape(measure, outline_of(*with, piece), {first.low.x + step, first.low.y}, style.cap_height.value);
        return measure;
    }
    // A face without Latin: by its ink alone.
    text.text = encode_utf8({&letter, 1});
    if (const auto alone = draw(text, fonts)) {
        measure.advance = alone->extent.width() + text.letter_spacing.value;
        measure.low = 0, measure.high = alone->extent.height();
        measure_shape(measure, alone->outline, alone->extent.low, style.cap_height.value);
    }
    return measure;
}

double measure_line(const Text& style, const std::string& line, const FontLibrary& fonts) {
    Text text = style;
    text.arc_radius = Mm(0);
    text.text = line;
    const auto drawn = draw(text, fonts);
    return drawn ? drawn->extent.width() : 0;
}

double gap_between(const LetterMeasure& a, const LetterMeasure& b) {
    double gap = LetterMeasure::none;
    for (std::size_t i = 0; i < LetterMeasure::slices; ++i)
        if (a.right[i] > -LetterMeasure::none && b.left[i] < LetterMeasure::none)
            gap = std::min(gap, a.advance + b.left[i] - a.right[i]);
    return gap;
}

} // namespace touchmark::content

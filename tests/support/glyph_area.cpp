// SPDX-License-Identifier: MIT
#include "tests/support/glyph_area.h"

#include <hb-ot.h>
#include <hb.h>

#include <cmath>
#include <memory>
#include <stdexcept>
#include <vector>

namespace touchmark::test {
namespace {

struct Sum {
    double twice_area = 0, x = 0, y = 0, start_x = 0, start_y = 0;

    void line(double to_x, double to_y) {
        twice_area += x * to_y - to_x * y;
        x = to_x, y = to_y;
    }
};

double cross(double ax, double ay, double bx, double by) {
    return ax * by - ay * bx;
}

void move_to(hb_draw_funcs_t*, void* data, hb_draw_state_t*, float x, float y, void*) {
    auto& sum = *static_cast<Sum*>(data);
    sum.x = sum.start_x = x, sum.y = sum.start_y = y;
}
void line_to(hb_draw_funcs_t*, void* data, hb_draw_state_t*, float x, float y, void*) {
    static_cast<Sum*>(data)->line(x, y);
}
// ∮ x dy − y dx over a quadratic: (2 P0×P1 + P0×P2 + 2 P1×P2) / 3; over a cubic:
// (6 P0×P1 + 3 P0×P2 + P0×P3 + 3 P1×P2 + 3 P1×P3 + 6 P2×P3) / 10. Both follow by integrating the Bernstein products.
void quadratic_to(hb_draw_funcs_t*, void* data, hb_draw_state_t*, float x1, float y1, float x2, float y2, void*) {
    auto& s = *static_cast<Sum*>(data);
    s.twice_area += (2 * cross(s.x, s.y, x1, y1) + cross(s.x, s.y, x2, y2) + 2 * cross(x1, y1, x2, y2)) / 3;
    s.x = x2, s.y = y2;
}
void cubic_to(hb_draw_funcs_t*, void* data, hb_draw_state_t*, float x1, float y1, float x2, float y2, float x3,
              float y3, void*) {
    auto& s = *static_cast<Sum*>(data);
    s.twice_area += (6 * cross(s.x, s.y, x1, y1) + 3 * cross(s.x, s.y, x2, y2) + cross(s.x, s.y, x3, y3) +
                     3 * cross(x1, y1, x2, y2) + 3 * cross(x1, y1, x3, y3) + 6 * cross(x2, y2, x3, y3)) /
                    10;
    s.x = x3, s.y = y3;
}
void close_path(hb_draw_funcs_t*, void* data, hb_draw_state_t*, void*) {
    auto& sum = *static_cast<Sum*>(data);
    sum.line(sum.start_x, sum.start_y);
}

template <auto Destroy> struct Deleter {
    template <class T> void operator()(T* object) const { Destroy(object); }
};

} // namespace

double lettering_area(const std::filesystem::path& file, std::string_view letters, double cap_height,
                      const std::string& variations) {
    const std::unique_ptr<hb_blob_t, Deleter<hb_blob_destroy>> blob(hb_blob_create_from_file(file.c_str()));
    const std::unique_ptr<hb_face_t, Deleter<hb_face_destroy>> face(hb_face_create(blob.get(), 0));
    const std::unique_ptr<hb_font_t, Deleter<hb_font_destroy>> font(hb_font_create(face.get()));
    hb_ot_font_set_funcs(font.get());
    std::vector<hb_variation_t> set;
    for (std::size_t at = 0; at < variations.size();) {
        const std::size_t comma = std::min(variations.find(',', at), variations.size());
        if (!hb_variation_from_string(variations.data() + at, static_cast<int>(comma - at), &set.emplace_back()))
            throw std::runtime_error("no variation: " + variations);
        at = comma + 1;
    }
    hb_font_set_variations(font.get(), set.data(), static_cast<unsigned>(set.size()));
    const std::unique_ptr<hb_draw_funcs_t, Deleter<hb_draw_funcs_destroy>> draw(hb_draw_funcs_create());
    hb_draw_funcs_set_move_to_func(draw.get(), move_to, nullptr, nullptr);
    hb_draw_funcs_set_line_to_func(draw.get(), line_to, nullptr, nullptr);
    hb_draw_funcs_set_quadratic_to_func(draw.get(), quadratic_to, nullptr, nullptr);
    hb_draw_funcs_set_cubic_to_func(draw.get(), cubic_to, nullptr, nullptr);
    hb_draw_funcs_set_close_path_func(draw.get(), close_path, nullptr, nullptr);

    hb_codepoint_t glyph = 0;
    hb_glyph_extents_t extents{};
    if (!hb_font_get_nominal_glyph(font.get(), 'H', &glyph) || !hb_font_get_glyph_extents(font.get(), glyph, &extents))
        throw std::runtime_error("no H in " + file.string());
    const double scale = cap_height / std::abs(extents.height);
    double area = 0;
    for (const char letter : letters) {
        if (!hb_font_get_nominal_glyph(font.get(), static_cast<unsigned char>(letter), &glyph))
            throw std::runtime_error("no such letter");
        Sum sum;
        hb_font_get_glyph_shape(font.get(), glyph, draw.get(), &sum);
        area += std::abs(sum.twice_area) / 2 * scale * scale;
    }
    return area;
}

} // namespace touchmark::test

// SPDX-License-Identifier: MIT
#include "tests/support/lettering_raster.h"

#include <ft2build.h>
#include FT_FREETYPE_H
#include FT_BBOX_H
#include FT_OUTLINE_H

#include <hb-ot.h>
#include <hb.h>

#include <cmath>
#include <memory>
#include <numeric>
#include <stdexcept>

namespace touchmark::test {
namespace {

template <auto Destroy> struct Deleter {
    template <class T> void operator()(T* object) const { Destroy(object); }
};

void require(bool condition, const std::filesystem::path& font) {
    if (!condition) throw std::runtime_error("cannot draw with " + font.string());
}

/// The outlines of all glyphs as one, in 1/64 pixel.
struct Combined {
    std::vector<FT_Vector> points;
    std::vector<char> tags;
    std::vector<short> ends;

    void add(const FT_Outline& outline, double x, double y, double scale) {
        const auto before = static_cast<short>(points.size());
        for (int i = 0; i < outline.n_points; ++i) {
            points.push_back({std::lround((static_cast<double>(outline.points[i].x) + x) * scale),
                              std::lround((static_cast<double>(outline.points[i].y) + y) * scale)});
            tags.push_back(static_cast<char>(outline.tags[i]));
        }
        for (int i = 0; i < outline.n_contours; ++i)
            ends.push_back(static_cast<short>(before + outline.contours[i]));
    }
    FT_Outline outline() {
        if (points.size() > 32'000) throw std::runtime_error("too long a text for one picture");
        FT_Outline result{};
        result.n_contours = static_cast<short>(ends.size());
        result.n_points = static_cast<short>(points.size());
        result.points = points.data();
        result.tags = tags.data();
        result.contours = ends.data();
        return result;
    }
};

double cap_height_of(hb_font_t* font) {
    hb_codepoint_t glyph = 0;
    hb_glyph_extents_t extents{};
    if (hb_font_get_nominal_glyph(font, 'H', &glyph) && hb_font_get_glyph_extents(font, glyph, &extents))
        return extents.y_bearing;
    hb_position_t height = 0;
    if (hb_ot_metrics_get_position(font, HB_OT_METRICS_TAG_CAP_HEIGHT, &height)) return height;
    return 0.7 * hb_face_get_upem(hb_font_get_face(font)); // no capitals: 0.7 em counts as their height
}

} // namespace

double LetteringRaster::area() const {
    return std::accumulate(coverage.begin(), coverage.end(), 0.0) / 255 * pixel * pixel;
}

LetteringRaster lettering_raster(const std::filesystem::path& path, std::string_view text, double cap_height,
                                 double pixel) {
    const std::unique_ptr<hb_blob_t, Deleter<hb_blob_destroy>> blob(hb_blob_create_from_file(path.c_str()));
    const std::unique_ptr<hb_face_t, Deleter<hb_face_destroy>> shaped(hb_face_create(blob.get(), 0));
    const std::unique_ptr<hb_font_t, Deleter<hb_font_destroy>> font(hb_font_create(shaped.get()));
    const std::unique_ptr<hb_buffer_t, Deleter<hb_buffer_destroy>> buffer(hb_buffer_create());
    hb_buffer_add_utf8(buffer.get(), text.data(), static_cast<int>(text.size()), 0, -1);
    hb_buffer_guess_segment_properties(buffer.get());
    hb_shape(font.get(), buffer.get(), nullptr, 0);
    unsigned count = 0;
    const hb_glyph_info_t* infos = hb_buffer_get_glyph_infos(buffer.get(), &count);
    const hb_glyph_position_t* positions = hb_buffer_get_glyph_positions(buffer.get(), &count);

    FT_Library library_raw = nullptr;
    require(FT_Init_FreeType(&library_raw) == 0, path);
    const std::unique_ptr<FT_LibraryRec_, Deleter<FT_Done_FreeType>> library(library_raw);
    FT_Face face_raw = nullptr;
    require(FT_New_Face(library.get(), path.c_str(), 0, &face_raw) == 0, path);
    const std::unique_ptr<FT_FaceRec_, Deleter<FT_Done_Face>> face(face_raw);

    const double mm_a_unit = cap_height / cap_height_of(font.get());
    Combined combined;
    double pen = 0;
    for (unsigned i = 0; i < count; ++i) {
        require(FT_Load_Glyph(face.get(), infos[i].codepoint, FT_LOAD_NO_SCALE) == 0, path);
        combined.add(face->glyph->outline, pen + positions[i].x_offset, positions[i].y_offset, mm_a_unit / pixel * 64);
        pen += positions[i].x_advance;
    }

    FT_Outline outline = combined.outline();
    FT_BBox box{};
    require(FT_Outline_Get_BBox(&outline, &box) == 0, path);
    const FT_Pos left = (box.xMin >> 6) - 1, bottom = (box.yMin >> 6) - 1;
    FT_Outline_Translate(&outline, -left * 64, -bottom * 64);
    LetteringRaster raster;
    raster.pixel = pixel;
    raster.width = static_cast<int>((box.xMax >> 6) - left + 2);
    raster.height = static_cast<int>((box.yMax >> 6) - bottom + 2);
    raster.coverage.resize(static_cast<std::size_t>(raster.width) * static_cast<std::size_t>(raster.height));
    const auto mm = [&](FT_Pos a, FT_Pos b) { return static_cast<double>(a + b) / 64 * pixel; };
    raster.low = {static_cast<double>(left) * pixel - mm(box.xMin, box.xMax) / 2,
                  static_cast<double>(bottom) * pixel - mm(box.yMin, box.yMax) / 2};
    raster.box_width = mm(box.xMax, -box.xMin), raster.box_height = mm(box.yMax, -box.yMin);
    FT_Bitmap bitmap{};
    bitmap.rows = static_cast<unsigned>(raster.height);
    bitmap.width = static_cast<unsigned>(raster.width);
    bitmap.pitch = -raster.width; // upward
    bitmap.buffer = raster.coverage.data();
    bitmap.num_grays = 256;
    bitmap.pixel_mode = FT_PIXEL_MODE_GRAY;
    require(FT_Outline_Get_Bitmap(library.get(), &outline, &bitmap) == 0, path);
    return raster;
}

} // namespace touchmark::test

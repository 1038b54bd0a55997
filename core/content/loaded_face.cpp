// SPDX-License-Identifier: MIT
#include "core/content/loaded_face.h"

#include <ft2build.h>
#include FT_FREETYPE_H
#include FT_BBOX_H
#include FT_MULTIPLE_MASTERS_H
#include FT_OUTLINE_H
#include FT_TRUETYPE_TABLES_H

#include <hb-ot.h>

#include <algorithm>
#include <cmath>

namespace touchmark::content {
namespace {

using geometry::Contour;
using geometry::Segment;

// FreeType halves the way between two control points in integers; six extra bits keep that exact.
constexpr int extra_bits = 6;

/// Collects FreeType's decomposition as Béziers.
struct Pen {
    std::vector<Contour> contours;
    Vec2 at;
    double scale = 1;

    [[nodiscard]] Vec2 point(const FT_Vector* v) const {
        return {static_cast<double>(v->x) * scale, static_cast<double>(v->y) * scale};
    }
    void add(const Segment& segment) {
        const bool nothing = segment.degree == 1 && segment.start() == segment.end();
        if (!nothing) contours.back().segments.push_back(segment);
        at = segment.end();
    }
};

int move_to(const FT_Vector* to, void* user) {
    auto& pen = *static_cast<Pen*>(user);
    pen.contours.emplace_back();
    pen.at = pen.point(to);
    return 0;
}
int line_to(const FT_Vector* to, void* user) {
    auto& pen = *static_cast<Pen*>(user);
    pen.add(Segment::line(pen.at, pen.point(to)));
    return 0;
}
int conic_to(const FT_Vector* control, const FT_Vector* to, void* user) {
    auto& pen = *static_cast<Pen*>(user);
    pen.add(Segment::quadratic(pen.at, pen.point(control), pen.point(to)));
    return 0;
}
int cubic_to(const FT_Vector* first, const FT_Vector* second, const FT_Vector* to, void* user) {
    auto& pen = *static_cast<Pen*>(user);
    pen.add(Segment::cubic(pen.at, pen.point(first), pen.point(second), pen.point(to)));
    return 0;
}

/// CFF leaves the last line to the start implicit.
void close(std::vector<Contour>& contours) {
    std::erase_if(contours, [](const Contour& contour) { return contour.segments.empty(); });
    for (Contour& contour : contours) {
        const Vec2 start = contour.segments.front().start(), end = contour.segments.back().end();
        if (!(start == end)) contour.segments.push_back(Segment::line(end, start));
    }
}

} // namespace

Result<std::shared_ptr<const LoadedFace>> LoadedFace::load(const FontFace& face) {
    std::shared_ptr<LoadedFace> loaded(new LoadedFace);
    if (!loaded->open(face))
        return fail("font.not_readable", "The font file " + face.file.string() + " cannot be read.",
                    "Choose another font, or install this one again.");
    return loaded;
}

bool LoadedFace::open(const FontFace& face) {
    // A FreeType library of its own: FreeType allows one thread a library.
    if (FT_Init_FreeType(&library_) || FT_New_Face(library_, face.file.c_str(), face.index, &face_)) return false;
    if (!FT_IS_SCALABLE(face_) || face_->units_per_EM == 0) return false;
    hb_blob_t* blob = hb_blob_create_from_file(face.file.c_str());
    hb_face_t* shaped = hb_face_create(blob, static_cast<unsigned>(face.index & 0xffff));
    font_ = hb_font_create(shaped);
    hb_font_set_scale(font_, face_->units_per_EM, face_->units_per_EM);
    hb_face_destroy(shaped);
    hb_blob_destroy(blob);
    if (!set_axes(face)) return false;
    hb_font_make_immutable(font_);
    cap_height_ = measured_cap_height();
    return cap_height_ > 0;
}

/// The instance first, then what departs from it; to both libraries alike, so that shaping and outlines agree.
bool LoadedFace::set_axes(const FontFace& face) {
    FT_MM_Var* axes = nullptr;
    if (!FT_HAS_MULTIPLE_MASTERS(face_) || FT_Get_MM_Var(face_, &axes)) return face.settings.empty();
    variable_ = true;
    std::vector<FT_Fixed> at(axes->num_axis);
    bool good = !FT_Get_Var_Design_Coordinates(face_, axes->num_axis, at.data());
    for (const AxisSetting& setting : face.settings) {
        const auto tag = hb_tag_from_string(setting.tag.data(), static_cast<int>(setting.tag.size()));
        const FT_Var_Axis* end = axes->axis + axes->num_axis;
        const FT_Var_Axis* axis = std::find_if(axes->axis + 0, axes->axis + axes->num_axis,
                                               [&](const FT_Var_Axis& one) { return one.tag == tag; });
        if (axis == end) good = false;
        if (axis != end) at[static_cast<std::size_t>(axis - axes->axis)] = std::lround(setting.value * 65536);
    }
    good = good && !FT_Set_Var_Design_Coordinates(face_, axes->num_axis, at.data());
    FT_Done_MM_Var(library_, axes);
    std::vector<float> design;
    for (const FT_Fixed value : at)
        design.push_back(static_cast<float>(static_cast<double>(value) / 65536));
    hb_font_set_var_coords_design(font_, design.data(), static_cast<unsigned>(design.size()));
    // At one pixel a font unit FreeType gives 1/64 of a unit: varied points do not lie on whole ones.
    return good && !FT_Set_Pixel_Sizes(face_, face_->units_per_EM, face_->units_per_EM);
}

std::vector<Axis> LoadedFace::axes(const FontFace& face) {
    hb_blob_t* blob = hb_blob_create_from_file(face.file.c_str());
    hb_face_t* opened = hb_face_create(blob, static_cast<unsigned>(face.index & 0xffff));
    std::vector<hb_ot_var_axis_info_t> infos(hb_ot_var_get_axis_count(opened));
    auto count = static_cast<unsigned>(infos.size());
    hb_ot_var_get_axis_infos(opened, 0, &count, infos.data());
    std::vector<Axis> axes;
    for (const hb_ot_var_axis_info_t& info : infos) {
        if (info.flags & HB_OT_VAR_AXIS_FLAG_HIDDEN) continue;
        Axis axis{std::string(4, ' '), std::string(100, '\0'), static_cast<double>(info.min_value),
                  static_cast<double>(info.default_value), static_cast<double>(info.max_value)};
        hb_tag_to_string(info.tag, axis.tag.data());
        auto size = static_cast<unsigned>(axis.name.size());
        hb_ot_name_get_utf8(opened, info.name_id, hb_language_from_string("en", -1), &size, axis.name.data());
        axis.name.resize(std::min<std::size_t>(size, axis.name.size()));
        if (axis.name.empty()) axis.name = axis.tag;
        axes.push_back(std::move(axis));
    }
    hb_face_destroy(opened);
    hb_blob_destroy(blob);
    return axes;
}

LoadedFace::~LoadedFace() {
    if (font_) hb_font_destroy(font_);
    if (face_) FT_Done_Face(face_);
    if (library_) FT_Done_FreeType(library_);
}

/// In font units, of a variable font in 64ths of them.
bool LoadedFace::load(std::uint32_t glyph) const {
    const auto how = variable_ ? FT_LOAD_NO_HINTING | FT_LOAD_NO_BITMAP : FT_LOAD_NO_SCALE;
    return !FT_Load_Glyph(face_, glyph, how) && face_->glyph->format == FT_GLYPH_FORMAT_OUTLINE;
}

double LoadedFace::measured_cap_height() const {
    hb_codepoint_t glyph = 0;
    if (hb_font_get_nominal_glyph(font_, U'H', &glyph) && glyph != 0) {
        FT_BBox box{};
        if (load(glyph) && !FT_Outline_Get_BBox(&face_->glyph->outline, &box) && box.yMax > 0)
            return static_cast<double>(box.yMax) / (variable_ ? 64 : 1);
    }
    const auto* os2 = static_cast<const TT_OS2*>(FT_Get_Sfnt_Table(face_, FT_SFNT_OS2));
    if (os2 && os2->version >= 2 && os2->version != 0xffff && os2->sCapHeight > 0) return os2->sCapHeight;
    return 0.7 * face_->units_per_EM; // scripts without capitals: a usual Latin proportion
}

std::optional<std::uint32_t> LoadedFace::nominal(char32_t code_point) const {
    hb_codepoint_t glyph = 0;
    if (!hb_font_get_nominal_glyph(font_, code_point, &glyph) || glyph == 0) return std::nullopt;
    return glyph;
}

std::vector<Contour> LoadedFace::contours(std::uint32_t index, double scale) const {
    if (!load(index)) return {};
    FT_Outline_Funcs functions{};
    functions.move_to = move_to;
    functions.line_to = line_to;
    functions.conic_to = conic_to;
    functions.cubic_to = cubic_to;
    functions.shift = extra_bits;
    Pen pen;
    pen.scale = scale / (1 << extra_bits) / (variable_ ? 64 : 1);
    if (FT_Outline_Decompose(&face_->glyph->outline, &functions, &pen)) return {};
    close(pen.contours);
    return std::move(pen.contours);
}

Result<std::shared_ptr<const geometry::Outline>> LoadedFace::glyph(std::uint32_t index) const {
    const std::scoped_lock lock(mutex_);
    if (const auto found = glyphs_.find(index); found != glyphs_.end()) return found->second;
    auto outline = geometry::outline_from(contours(index, reference_cap_height / cap_height_));
    if (!outline) return std::unexpected(outline.error());
    auto shared = std::make_shared<const geometry::Outline>(std::move(*outline));
    glyphs_.emplace(index, shared);
    return shared;
}

} // namespace touchmark::content

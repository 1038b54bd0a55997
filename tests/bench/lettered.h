// SPDX-License-Identifier: MIT
#pragma once

// The parts and marks that benchmarks measure: N glyphs of DejaVu Sans Bold, exact curves, 0.3 mm deep, in a rounded
// box of 60 × 40 × 20 mm, in a shaft of radius 15 mm, and on a waved B-spline top of 90 × 60 mm.

#include "core/content/content.h"
#include "core/imprint/imprint.h"
#include "core/part/shape.h"

#include <BRepBuilderAPI_MakeFace.hxx>
#include <BRepFilletAPI_MakeFillet.hxx>
#include <BRepPrimAPI_MakeBox.hxx>
#include <BRepPrimAPI_MakeCylinder.hxx>
#include <BRepPrimAPI_MakePrism.hxx>
#include <GeomAPI_PointsToBSplineSurface.hxx>
#include <Geom_BSplineSurface.hxx>
#include <TColgp_Array2OfPnt.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>

#include <cmath>

namespace touchmark::bench {

inline part::PartPtr part_of(const TopoDS_Shape& shape) {
    part::Model model;
    model.products.push_back({"bench", shape, {}, {}, {}});
    model.roots.push_back({0, {}, "bench", {}});
    return part::make_part(std::move(model), {}, Progress()).value();
}

inline part::PartPtr rounded_box() {
    const TopoDS_Shape box = BRepPrimAPI_MakeBox(gp_Pnt(-30, -20, 0), 60, 40, 20).Shape();
    BRepFilletAPI_MakeFillet fillet(box);
    for (TopExp_Explorer edge(box, TopAbs_EDGE); edge.More(); edge.Next())
        fillet.Add(2, TopoDS::Edge(edge.Current()));
    return part_of(TopExp_Explorer(fillet.Shape(), TopAbs_SOLID).Current());
}

/// Scaled to fill width × height about the origin.
inline geometry::Outline filling(const geometry::Outline& outline, double width, double height) {
    const Box2 box = geometry::bounds(outline);
    const double scale = std::min(width / box.width(), height / box.height());
    return geometry::transformed(outline,
                                 geometry::Affine::scale(scale) * geometry::Affine::translation(box.centre() * -1));
}

inline const content::FontLibrary& fonts() {
    static const auto library = content::FontLibrary::system().value();
    return *library;
}

/// N glyphs in lines.
inline geometry::Outline lettering(int count, double width, double height) {
    constexpr std::string_view letters = "ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789abcdefghijklmnopqrstuvwxyz&%@#";
    const int columns = std::max(1, static_cast<int>(std::ceil(std::sqrt(count * width / height * 1.6))));
    content::Text text;
    text.family = "DejaVu Sans";
    text.weight = 700;
    for (int i = 0; i < count; ++i) {
        if (i > 0 && i % columns == 0) text.text += '\n';
        text.text += letters[static_cast<std::size_t>(i) % letters.size()];
    }
    text.cap_height = Mm(1);
    return filling(content::draw(text, fonts()).value().outline, width, height);
}

/// A QR code of that version.
inline geometry::Outline qr_code(int version, double width, double height) {
    content::Code code;
    code.symbology = content::Symbology::qr;
    code.version = version;
    code.message = "TOUCHMARK";
    return filling(content::draw(code, fonts()).value().outline, width, height);
}

enum Kind { plane, cylinder, spline };

/// A block with a gently waved top of 90 × 60 mm, one bicubic B-spline.
inline part::PartPtr waved_block() {
    constexpr int across = 13, along = 9;
    TColgp_Array2OfPnt points(1, across, 1, along);
    for (int i = 1; i <= across; ++i)
        for (int j = 1; j <= along; ++j) {
            const double x = -45 + 90.0 * (i - 1) / (across - 1), y = -30 + 60.0 * (j - 1) / (along - 1);
            points(i, j) = gp_Pnt(x, y, 3 * std::sin(x / 15) * std::cos(y / 12));
        }
    const Handle(Geom_BSplineSurface) top = GeomAPI_PointsToBSplineSurface(points, 3, 3, GeomAbs_C2, 1e-6).Surface();
    const TopoDS_Shape face = BRepBuilderAPI_MakeFace(top, 1e-6).Shape();
    return part_of(BRepPrimAPI_MakePrism(face, gp_Vec(0, 0, -20)).Shape());
}

/// `count`: of glyphs; negative: the version of a QR code.
inline imprint::Footprint footprint(const part::PartPtr& part, Kind kind, int count) {
    imprint::Footprint mark;
    mark.name = "mark";
    mark.depth = Mm(0.3);
    const auto wanted = [&](const part::Face& face) {
        if (kind == plane) return face.kind == part::FaceKind::plane && face.frame.z.z > 0.9;
        if (kind == cylinder) return face.kind == part::FaceKind::cylinder;
        return face.kind == part::FaceKind::freeform && face.frame.z.z > 0.5;
    };
    for (const part::Face& face : part->faces())
        if (wanted(face)) mark.map = surface::map_face(*part, face.index).value()->about({}, Laying::wrap);
    const Vec2 room = kind == cylinder ? Vec2{60, 36} : Vec2{52, 32};
    mark.outline = count < 0 ? qr_code(-count, room.x, room.y) : lettering(count, room.x, room.y);
    return mark;
}

inline part::PartPtr part_for(Kind kind) {
    if (kind == spline) return waved_block();
    return kind == plane ? rounded_box() : part_of(BRepPrimAPI_MakeCylinder(15, 40).Shape());
}

} // namespace touchmark::bench

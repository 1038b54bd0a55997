// SPDX-License-Identifier: MIT
#pragma once

#include "core/deliver/exchange.h"
#include "core/deliver/geometry_entities.h"
#include "core/deliver/step.h"
#include "core/part/shape.h"

#include <NCollection_DataMap.hxx>
#include <STEPCAFControl_Writer.hxx>
#include <TopTools_DataMapOfShapeInteger.hxx>
#include <TopTools_ShapeMapHasher.hxx>
#include <TopoDS_Face.hxx>

#include <unordered_map>

namespace touchmark::deliver {

/// Geometry as it lies in its product.
struct PlacedCurve {
    Handle(Geom_Curve) curve;
    TopLoc_Location location;
};
struct PlacedSurface {
    Handle(Geom_Surface) surface; ///< not trimmed
    TopLoc_Location location;
};
[[nodiscard]] Handle(Geom_Surface) untrimmed(Handle(Geom_Surface) surface);
[[nodiscard]] PlacedCurve placed_curve(const TopoDS_Shape& edge);
[[nodiscard]] PlacedSurface placed_surface(const TopoDS_Shape& face);

struct PlacedHasher {
    static int HashCode(const PlacedCurve& key, int upper) { return ::HashCode(key.curve.get(), upper); }
    static int HashCode(const PlacedSurface& key, int upper) { return ::HashCode(key.surface.get(), upper); }
    static bool IsEqual(const PlacedCurve& a, const PlacedCurve& b) {
        return a.curve == b.curve && a.location == b.location;
    }
    static bool IsEqual(const PlacedSurface& a, const PlacedSurface& b) {
        return a.surface == b.surface && a.location == b.location;
    }
};
template <class Key, class Value> using PlacedMap = NCollection_DataMap<Key, Value, PlacedHasher>;

/// A part without its marks as OpenCASCADE writes it, read back and found good, and which entity stands for which of
/// its shapes. Marked copies of it are written by adding to it.
struct Unmarked {
    part::PartPtr part;
    Exchange file;
    double unit_mm = 1;
    StepReport report;                     ///< of the writing and reading back
    TopTools_DataMapOfShapeInteger shapes; ///< faces, wires, edges and vertices of all products
    PlacedMap<PlacedCurve, int> curves;
    PlacedMap<PlacedSurface, SurfaceEntity> surfaces;
    std::unordered_map<int, int> shell_of_face, solid_of_shell, representation_of_solid;
    std::unordered_map<int, int> styles_in_context; ///< context → the list of styled items in it
    std::unordered_map<int, int> style_of_item;     ///< item → its STYLED_ITEM

    /// 0 for none.
    [[nodiscard]] int id_of(const TopoDS_Shape& shape) const {
        const int* id = shapes.Seek(shape);
        return id ? *id : 0;
    }
};

/// What FindEntity says of the shapes, straight after writing.
[[nodiscard]] TopTools_DataMapOfShapeInteger entities_of(const part::Model& model, STEPCAFControl_Writer& writer);
/// Fills in all that follows from the shapes' entities and the text.
void link(Unmarked& unmarked);

} // namespace touchmark::deliver

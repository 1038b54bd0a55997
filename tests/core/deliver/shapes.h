// SPDX-License-Identifier: MIT
#pragma once

#include "core/part/shape.h"

#include <BRepPrimAPI_MakeBox.hxx>
#include <TopExp.hxx>
#include <TopTools_IndexedMapOfShape.hxx>

#include <stdexcept>

namespace touchmark::test {

inline part::PartPtr part_of(part::Model model) {
    auto part = part::make_part(std::move(model), Digest{1, 2}, Progress());
    if (!part) throw std::runtime_error(part.error().message);
    return *part;
}

/// One product with one shape at the origin.
inline part::Model model_of(const TopoDS_Shape& shape, const std::string& name) {
    part::Model model;
    model.name = name;
    model.products.emplace_back();
    model.products.front().name = name;
    model.products.front().shape = shape;
    model.roots.emplace_back();
    return model;
}

inline part::PartPtr box_part(double x, double y, double z) {
    return part_of(model_of(BRepPrimAPI_MakeBox(x, y, z).Shape(), "Box"));
}

inline TopoDS_Shape nth_face(const TopoDS_Shape& shape, int n) {
    TopTools_IndexedMapOfShape faces;
    TopExp::MapShapes(shape, TopAbs_FACE, faces);
    return faces(n + 1);
}

} // namespace touchmark::test

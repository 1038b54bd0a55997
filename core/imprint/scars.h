// SPDX-License-Identifier: MIT
#pragma once

#include <BRepTools_History.hxx>
#include <TopoDS_Shape.hxx>

namespace touchmark::imprint {

/// Takes away what a boolean left within faces that it made or changed: edges that bound nothing and belong to no other
/// face. `history`: from before to the solid, brought up to date. Faces that `before` has as they are stay so.
void remove_scars(TopoDS_Shape& solid, const TopoDS_Shape& before, const Handle(BRepTools_History) & history);

} // namespace touchmark::imprint

// SPDX-License-Identifier: MIT
#include "core/deliver/unmarked.h"

#include "core/part/shape.h"

#include <BRep_Tool.hxx>
#include <Geom_RectangularTrimmedSurface.hxx>
#include <Geom_TrimmedCurve.hxx>
#include <STEPConstruct.hxx>
#include <StepData_StepModel.hxx>
#include <StepRepr_RepresentationItem.hxx>
#include <TopExp.hxx>
#include <TopTools_IndexedMapOfShape.hxx>
#include <TopoDS.hxx>
#include <Transfer_FinderProcess.hxx>
#include <XSControl_TransferWriter.hxx>
#include <XSControl_WorkSession.hxx>

namespace touchmark::deliver {
namespace {

/// An edge's curve may be wrapped together with its curves on surfaces.
int bare_curve(const Exchange& file, int curve) {
    const Record record = file.record(curve);
    const bool wrapped = record.type == "SURFACE_CURVE" || record.type == "SEAM_CURVE";
    return wrapped ? reference(record.argument(1)) : curve;
}

void link_geometry(Unmarked& unmarked) {
    for (TopTools_DataMapOfShapeInteger::Iterator item(unmarked.shapes); item.More(); item.Next()) {
        const TopoDS_Shape& shape = item.Key();
        const Record record = unmarked.file.record(item.Value());
        if (record.type == "EDGE_CURVE") {
            if (PlacedCurve curve = placed_curve(shape); !curve.curve.IsNull())
                unmarked.curves.Bind(curve, bare_curve(unmarked.file, reference(record.argument(3))));
        } else if (record.type == "ADVANCED_FACE") {
            const bool same = record.argument(3) == ".T.", forward = shape.Orientation() == TopAbs_FORWARD;
            unmarked.surfaces.Bind(placed_surface(shape), {reference(record.argument(2)), same != forward});
        }
    }
}

/// The shells that a solid is made of, the oriented ones looked through.
void link_solid(Unmarked& unmarked, int solid, const Record& record) {
    unmarked.solid_of_shell[reference(record.argument(1))] = solid;
    for (const int oriented : references_in(record.argument(2)))
        unmarked.solid_of_shell[reference(unmarked.file.record(oriented).argument(2))] = solid;
}

void link_topology(Unmarked& unmarked) {
    for (const Exchange::Instance& instance : unmarked.file.instances()) {
        const Record record = record_of(unmarked.file.text_of(instance));
        if (record.type == "CLOSED_SHELL") {
            for (const int face : references_in(record.argument(1)))
                unmarked.shell_of_face[face] = instance.id;
        } else if (record.type == "MANIFOLD_SOLID_BREP" || record.type == "BREP_WITH_VOIDS") {
            link_solid(unmarked, instance.id, record);
        } else if (record.type.ends_with("PRESENTATION_REPRESENTATION")) {
            unmarked.styles_in_context[reference(record.argument(2))] = instance.id;
        } else if (record.type.ends_with("SHAPE_REPRESENTATION")) {
            for (const int item : references_in(record.argument(1)))
                unmarked.representation_of_solid[item] = instance.id;
        } else if (record.type == "STYLED_ITEM") {
            unmarked.style_of_item[reference(record.argument(2))] = instance.id;
        }
    }
}

} // namespace

PlacedCurve placed_curve(const TopoDS_Shape& edge) {
    PlacedCurve out;
    double first, last;
    out.curve = BRep_Tool::Curve(TopoDS::Edge(edge), out.location, first, last);
    while (const auto trimmed = Handle(Geom_TrimmedCurve)::DownCast(out.curve))
        out.curve = trimmed->BasisCurve();
    return out;
}

Handle(Geom_Surface) untrimmed(Handle(Geom_Surface) surface) {
    while (const auto trimmed = Handle(Geom_RectangularTrimmedSurface)::DownCast(surface))
        surface = trimmed->BasisSurface();
    return surface;
}

PlacedSurface placed_surface(const TopoDS_Shape& face) {
    PlacedSurface out;
    out.surface = BRep_Tool::Surface(TopoDS::Face(face), out.location);
    out.surface = untrimmed(out.surface);
    return out;
}

TopTools_DataMapOfShapeInteger entities_of(const part::Model& model, STEPCAFControl_Writer& writer) {
    TopTools_DataMapOfShapeInteger out;
    const Handle(XSControl_WorkSession) session = writer.ChangeWriter().WS();
    const Handle(Transfer_FinderProcess) process = session->TransferWriter()->FinderProcess();
    const Handle(Interface_InterfaceModel) entities = session->Model();
    for (const part::Product& product : model.products) {
        if (product.shape.IsNull()) continue;
        TopTools_IndexedMapOfShape all;
        for (const TopAbs_ShapeEnum kind : {TopAbs_FACE, TopAbs_WIRE, TopAbs_EDGE, TopAbs_VERTEX})
            TopExp::MapShapes(product.shape, kind, all);
        for (int i = 1; i <= all.Extent(); ++i) {
            const Handle(StepRepr_RepresentationItem) entity = STEPConstruct::FindEntity(process, all(i));
            if (!entity.IsNull()) out.Bind(all(i), entities->Number(entity));
        }
    }
    return out;
}

void link(Unmarked& unmarked) {
    link_geometry(unmarked);
    link_topology(unmarked);
}

} // namespace touchmark::deliver

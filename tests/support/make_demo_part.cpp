// SPDX-License-Identifier: MIT
// Makes resources/demo/sensor-bracket.step: the demo part, an invented bracket that holds a round sensor. usage:
// make_demo_part OUT.step
#include <APIHeaderSection_MakeHeader.hxx>
#include <BRepAlgoAPI_Cut.hxx>
#include <BRepAlgoAPI_Fuse.hxx>
#include <BRepBuilderAPI_MakeFace.hxx>
#include <BRepBuilderAPI_MakePolygon.hxx>
#include <BRepFilletAPI_MakeFillet.hxx>
#include <BRepPrimAPI_MakeBox.hxx>
#include <BRepPrimAPI_MakeCylinder.hxx>
#include <BRepPrimAPI_MakePrism.hxx>
#include <BRep_Tool.hxx>
#include <IFSelect_ReturnStatus.hxx>
#include <Interface_Static.hxx>
#include <Message.hxx>
#include <Message_Messenger.hxx>
#include <Quantity_Color.hxx>
#include <STEPCAFControl_Controller.hxx>
#include <STEPCAFControl_Writer.hxx>
#include <ShapeUpgrade_UnifySameDomain.hxx>
#include <StepData_StepModel.hxx>
#include <TCollection_HAsciiString.hxx>
#include <TDataStd_Name.hxx>
#include <TDocStd_Document.hxx>
#include <TopExp.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <XCAFApp_Application.hxx>
#include <XCAFDoc_ColorTool.hxx>
#include <XCAFDoc_DocumentTool.hxx>
#include <XCAFDoc_ShapeTool.hxx>

#include <cmath>
#include <iostream>
#include <vector>

namespace {

constexpr double width = 88, foot_depth = 52, foot_height = 8, wall_thickness = 10, wall_height = 56;

TopoDS_Shape cylinder(gp_Pnt at, gp_Dir along, double radius, double height) {
    return BRepPrimAPI_MakeCylinder(gp_Ax2(at, along), radius, height).Shape();
}

/// Rounds every straight edge that runs along `along` and whose middle `wanted` accepts.
template <class Wanted> TopoDS_Shape rounded(const TopoDS_Shape& shape, gp_Dir along, double radius, Wanted wanted) {
    BRepFilletAPI_MakeFillet fillet(shape);
    TopTools_IndexedMapOfShape edges;
    TopExp::MapShapes(shape, TopAbs_EDGE, edges);
    for (int i = 1; i <= edges.Extent(); ++i) {
        const auto edge = TopoDS::Edge(edges(i));
        const gp_Pnt a = BRep_Tool::Pnt(TopExp::FirstVertex(edge)), b = BRep_Tool::Pnt(TopExp::LastVertex(edge));
        if (a.Distance(b) < 1e-6 || !gp_Dir(gp_Vec(a, b)).IsParallel(along, 1e-6)) continue;
        if (wanted(gp_Pnt((a.XYZ() + b.XYZ()) / 2))) fillet.Add(radius, edge);
    }
    return fillet.Shape();
}

/// A gusset between foot and wall, `thick` mm wide from x.
TopoDS_Shape gusset(double x, double thick) {
    BRepBuilderAPI_MakePolygon outline;
    outline.Add(gp_Pnt(x, wall_thickness - 1, foot_height - 1));
    outline.Add(gp_Pnt(x, foot_depth - 10, foot_height - 1));
    outline.Add(gp_Pnt(x, foot_depth - 10, foot_height + 4));
    outline.Add(gp_Pnt(x, wall_thickness - 1, wall_height - 16));
    outline.Close();
    return BRepPrimAPI_MakePrism(BRepBuilderAPI_MakeFace(outline.Wire()).Face(), gp_Vec(thick, 0, 0)).Shape();
}

TopoDS_Shape bracket() {
    const TopoDS_Shape foot = rounded(BRepPrimAPI_MakeBox(gp_Pnt(0, 0, 0), width, foot_depth, foot_height).Shape(),
                                      gp::DZ(), 9, [](gp_Pnt p) { return p.Y() > foot_depth - 1; });
    const TopoDS_Shape wall = rounded(BRepPrimAPI_MakeBox(gp_Pnt(0, 0, 0), width, wall_thickness, wall_height).Shape(),
                                      gp::DY(), 14, [](gp_Pnt p) { return p.Z() > wall_height - 1; });
    TopoDS_Shape body = BRepAlgoAPI_Fuse(foot, wall).Shape();
    for (const double x : {4.0, width - 10.0})
        body = BRepAlgoAPI_Fuse(body, gusset(x, 6)).Shape();
    // Seat of the sensor: a collar behind the wall, bored through.
    body = BRepAlgoAPI_Fuse(body, cylinder(gp_Pnt(width - 30, wall_thickness - 1, 33), gp::DY(), 14, 9)).Shape();
    body = BRepAlgoAPI_Cut(body, cylinder(gp_Pnt(width - 30, -1, 33), gp::DY(), 10, 40)).Shape();
    // Screws in the foot, counterbored, and a cable slot through the wall.
    for (const double x : {24.0, width - 24.0}) {
        body = BRepAlgoAPI_Cut(body, cylinder(gp_Pnt(x, 40, -1), gp::DZ(), 2.75, 20)).Shape();
        body = BRepAlgoAPI_Cut(body, cylinder(gp_Pnt(x, 40, foot_height - 3), gp::DZ(), 5, 20)).Shape();
    }
    ShapeUpgrade_UnifySameDomain unify(body);
    unify.Build();
    body = unify.Shape();
    // The inner corner between foot and wall is soft where nothing stands in it.
    body = rounded(body, gp::DX(), 3, [](gp_Pnt p) {
        return std::abs(p.Y() - wall_thickness) < 1e-6 && std::abs(p.Z() - foot_height) < 1e-6 && p.X() > 10 &&
               p.X() < width - 10;
    });
    TopExp_Explorer solids(body, TopAbs_SOLID);
    return solids.Current();
}

} // namespace

int main(int argc, char** argv) {
    if (argc != 2) {
        std::cerr << "usage: make_demo_part OUT.step\n";
        return 2;
    }
    Message::DefaultMessenger()->ChangePrinters().Clear();
    STEPCAFControl_Controller::Init();
    Handle(TDocStd_Document) document;
    XCAFApp_Application::GetApplication()->NewDocument("MDTV-XCAF", document);
    const auto shapes = XCAFDoc_DocumentTool::ShapeTool(document->Main());
    const TDF_Label label = shapes->AddShape(bracket(), false);
    TDataStd_Name::Set(label, "Sensor bracket NW-2207");
    XCAFDoc_DocumentTool::ColorTool(document->Main())
        ->SetColor(label, Quantity_Color(0.62, 0.66, 0.70, Quantity_TOC_sRGB), XCAFDoc_ColorGen);
    Interface_Static::SetCVal("write.step.schema", "AP214IS");
    Interface_Static::SetCVal("write.step.product.name", "Sensor bracket NW-2207");
    STEPCAFControl_Writer writer;
    writer.SetColorMode(true);
    writer.SetNameMode(true);
    if (!writer.Transfer(document, STEPControl_AsIs)) return 1;
    APIHeaderSection_MakeHeader header(writer.ChangeWriter().Model());
    const auto text = [](const char* value) { return new TCollection_HAsciiString(value); };
    header.SetName(text("sensor-bracket.step"));
    header.SetAuthorValue(1, text("Touchmark authors"));
    header.SetOrganizationValue(1, text("Northwick Instruments (invented)"));
    header.SetTimeStamp(text("2026-01-01T00:00:00"));
    return writer.Write(argv[1]) == IFSelect_RetDone ? 0 : 1;
}

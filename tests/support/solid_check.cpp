// SPDX-License-Identifier: MIT
#include "tests/support/solid_check.h"

#include <BRepCheck_Analyzer.hxx>
#include <BRepGProp.hxx>
#include <BRep_Tool.hxx>
#include <GProp_GProps.hxx>
#include <Message.hxx>
#include <Message_Messenger.hxx>
#include <STEPControl_Reader.hxx>
#include <TopExp.hxx>
#include <TopExp_Explorer.hxx>
#include <TopTools_IndexedMapOfShape.hxx>
#include <TopoDS.hxx>

#include <stdexcept>
#include <vector>

namespace touchmark::test {
namespace {

bool is_closed(const TopoDS_Shape& shell) {
    TopTools_IndexedMapOfShape edges;
    std::vector<std::pair<int, int>> uses; // forward, reversed
    for (TopExp_Explorer faces(shell, TopAbs_FACE); faces.More(); faces.Next())
        for (TopExp_Explorer explorer(faces.Current(), TopAbs_EDGE); explorer.More(); explorer.Next()) {
            if (BRep_Tool::Degenerated(TopoDS::Edge(explorer.Current()))) continue;
            const auto index = static_cast<std::size_t>(edges.Add(explorer.Current()));
            if (uses.size() < index) uses.resize(index);
            auto& [forward, reversed] = uses[index - 1];
            (explorer.Current().Orientation() == TopAbs_FORWARD ? forward : reversed)++;
        }
    for (const auto& [forward, reversed] : uses)
        if (forward != 1 || reversed != 1) return false;
    return true;
}

} // namespace

TopoDS_Shape read_bare_shape(const std::filesystem::path& file) {
    Message::DefaultMessenger()->ChangePrinters().Clear();
    STEPControl_Reader reader;
    if (reader.ReadFile(std::filesystem::absolute(file).c_str()) != IFSelect_RetDone)
        throw std::runtime_error("cannot read " + file.string());
    reader.TransferRoots();
    const TopoDS_Shape shape = reader.OneShape();
    if (shape.IsNull()) throw std::runtime_error("no shape in " + file.string());
    return shape;
}

SolidFigures read_bare(const std::filesystem::path& file) {
    return figures_of(read_bare_shape(file));
}

SolidFigures figures_of(const TopoDS_Shape& shape) {
    SolidFigures figures;
    figures.valid = BRepCheck_Analyzer(shape).IsValid();
    figures.closed = true;
    for (TopExp_Explorer solids(shape, TopAbs_SOLID); solids.More(); solids.Next()) {
        ++figures.solids;
        GProp_GProps properties;
        BRepGProp::VolumeProperties(solids.Current(), properties);
        figures.volume += properties.Mass();
        for (TopExp_Explorer shells(solids.Current(), TopAbs_SHELL); shells.More(); shells.Next())
            figures.closed = figures.closed && is_closed(shells.Current());
        for (TopExp_Explorer faces(solids.Current(), TopAbs_FACE); faces.More(); faces.Next())
            ++figures.faces;
    }
    return figures;
}

} // namespace touchmark::test

// SPDX-License-Identifier: MIT
#include "core/part/sub_shape_names.h"

#include <Interface_InterfaceModel.hxx>
#include <STEPCAFControl_ExternFile.hxx>
#include <StepShape_ConnectedFaceSet.hxx>
#include <StepShape_Face.hxx>
#include <StepShape_SolidModel.hxx>
#include <TCollection_HAsciiString.hxx>
#include <TopExp_Explorer.hxx>
#include <TopTools_DataMapOfShapeInteger.hxx>
#include <TransferBRep.hxx>
#include <Transfer_TransientProcess.hxx>
#include <XSControl_TransferReader.hxx>
#include <XSControl_WorkSession.hxx>

namespace touchmark::part {
namespace {

/// Shapes without their location, and the name of each.
class Names {
public:
    void collect(const Handle(XSControl_WorkSession) & session) {
        if (session.IsNull() || session->Model().IsNull() || session->TransferReader().IsNull()) return;
        const Handle(Transfer_TransientProcess) process = session->TransferReader()->TransientProcess();
        if (process.IsNull()) return;
        const Handle(Interface_InterfaceModel) model = session->Model();
        for (int i = 1; i <= model->NbEntities(); ++i) {
            const Handle(StepRepr_RepresentationItem) item = named_item(model->Value(i));
            if (item.IsNull()) continue;
            const TopoDS_Shape shape = TransferBRep::ShapeResult(process, item);
            if (shape.IsNull() || !index_.Bind(shape.Located(TopLoc_Location()), static_cast<int>(names_.size())))
                continue;
            names_.emplace_back(item->Name()->ToCString());
        }
    }
    [[nodiscard]] bool empty() const { return names_.empty(); }
    [[nodiscard]] const std::string* find(const TopoDS_Shape& shape) const {
        const int* found = index_.Seek(shape.Located(TopLoc_Location()));
        return found ? &names_[static_cast<std::size_t>(*found)] : nullptr;
    }

private:
    /// Null for what is of another kind or has no name worth the word.
    static Handle(StepRepr_RepresentationItem) named_item(const Handle(Standard_Transient) & entity) {
        if (entity.IsNull() ||
            !(entity->IsKind(STANDARD_TYPE(StepShape_Face)) || entity->IsKind(STANDARD_TYPE(StepShape_SolidModel)) ||
              entity->IsKind(STANDARD_TYPE(StepShape_ConnectedFaceSet))))
            return nullptr;
        const Handle(StepRepr_RepresentationItem) item = Handle(StepRepr_RepresentationItem)::DownCast(entity);
        if (item.IsNull() || item->Name().IsNull()) return nullptr;
        const std::string_view name = item->Name()->ToCString();
        return name.find_first_not_of(' ') == std::string_view::npos || name == "NONE" ? nullptr : item;
    }

    TopTools_DataMapOfShapeInteger index_;
    std::vector<std::string> names_;
};

void name_product(Product& product, const Names& names) {
    TopTools_DataMapOfShapeInteger styled;
    for (std::size_t i = 0; i < product.styled.size(); ++i)
        styled.Bind(product.styled[i].shape, static_cast<int>(i));
    for (const TopAbs_ShapeEnum kind : {TopAbs_SOLID, TopAbs_SHELL, TopAbs_FACE})
        for (TopExp_Explorer item(product.shape, kind); item.More(); item.Next()) {
            const TopoDS_Shape& shape = item.Current();
            const std::string* name = names.find(shape);
            if (!name || shape.IsSame(product.shape)) continue; // the product has its own
            if (const int* known = styled.Seek(shape)) {
                std::string& there = product.styled[static_cast<std::size_t>(*known)].name;
                if (there.empty()) there = *name;
                continue;
            }
            styled.Bind(shape, static_cast<int>(product.styled.size()));
            Styled added;
            added.shape = shape;
            added.name = *name;
            product.styled.push_back(std::move(added));
        }
}

} // namespace

void add_sub_shape_names(const STEPCAFControl_Reader& reader, Model& model) {
    Names names;
    names.collect(reader.Reader().WS());
    for (NCollection_DataMap<TCollection_AsciiString, Handle(STEPCAFControl_ExternFile)>::Iterator file(
             reader.ExternFiles());
         file.More(); file.Next())
        names.collect(file.Value()->GetWS());
    if (names.empty()) return;
    for (Product& product : model.products)
        if (!product.shape.IsNull()) name_product(product, names);
}

} // namespace touchmark::part

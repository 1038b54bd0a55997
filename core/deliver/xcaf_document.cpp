// SPDX-License-Identifier: MIT
#include "core/deliver/xcaf_document.h"

#include "core/deliver/face_order.h"

#include <Quantity_Color.hxx>
#include <TCollection_AsciiString.hxx>
#include <TCollection_ExtendedString.hxx>
#include <TDataStd_Name.hxx>
#include <XCAFApp_Application.hxx>
#include <XCAFDoc_ColorTool.hxx>
#include <XCAFDoc_DocumentTool.hxx>
#include <XCAFDoc_ShapeTool.hxx>

namespace touchmark::deliver {
namespace {

void set_name(const TDF_Label& label, const std::string& name) {
    if (!name.empty()) TDataStd_Name::Set(label, TCollection_ExtendedString(name.c_str(), true));
}

class Construction {
public:
    Construction(const part::Model& model, std::string nameless, const TDF_Label& main)
        : model_(model), nameless_(std::move(nameless)), shapes_(XCAFDoc_DocumentTool::ShapeTool(main)),
          colours_(XCAFDoc_DocumentTool::ColorTool(main)), labels_(model.products.size()) {}

    void run() {
        XCAFDoc_ShapeTool::SetAutoNaming(
            Standard_False); // else what has no name comes back as "SOLID" or "=>[0:1:1:2]"
        for (const part::Instance& root : model_.roots) {
            const TDF_Label product = label_of(root.product, model_.name.empty() ? nameless_ : model_.name);
            if (root.location.IsIdentity()) continue;
            // A free product cannot lie elsewhere than at its own origin; an assembly of one can place it.
            const TDF_Label assembly = shapes_->NewShape();
            set_name(assembly, model_.name.empty() ? nameless_ : model_.name);
            place(assembly, root, product);
        }
        shapes_->UpdateAssemblies();
    }

private:
    /// A product without a name takes that of what it is part of: STEP asks for one, and OpenCASCADE would advertise
    /// itself.
    TDF_Label label_of(int index, const std::string& above) {
        const auto at = static_cast<std::size_t>(index);
        if (!labels_[at].IsNull()) return labels_[at];
        const part::Product& product = model_.products[at];
        Handle(BRepTools_ReShape) order;
        if (!product.shape.IsNull()) order = faces_with_many_edges_last(product.shape);
        const TDF_Label label =
            order.IsNull() ? shapes_->NewShape() : shapes_->AddShape(order->Apply(product.shape), false, false);
        labels_[at] = label;
        const std::string& name = product.name.empty() ? above : product.name;
        set_name(label, name);
        // Not the general colour, which would colour curves as well.
        set_colour(label, product.colour, XCAFDoc_ColorSurf);
        for (const part::Instance& child : product.children)
            place(label, child, label_of(child.product, name));
        for (const part::Styled& styled : product.styled)
            add_styled(label, styled, order.IsNull() ? styled.shape : order->Apply(styled.shape));
        return label;
    }

    static std::string name_of(const TDF_Label& label) {
        Handle(TDataStd_Name) name;
        if (!label.FindAttribute(TDataStd_Name::GetID(), name)) return {};
        return TCollection_AsciiString(name->Get()).ToCString(); // UTF-8
    }

    void place(const TDF_Label& assembly, const part::Instance& instance, const TDF_Label& product) {
        const TDF_Label component = shapes_->AddComponent(assembly, product, instance.location);
        // Without a name a reader shows the instance's number.
        set_name(component, instance.name.empty() ? name_of(product) : instance.name);
        set_colour(component, instance.colour, XCAFDoc_ColorSurf);
    }

    void add_styled(const TDF_Label& product, const part::Styled& styled, const TopoDS_Shape& shape) {
        const TDF_Label label = shapes_->AddSubShape(product, shape);
        if (label.IsNull()) return; // a shape that marking took away
        set_name(label, styled.name.empty() ? styled.mark : styled.name);
        set_colour(label, styled.surface, XCAFDoc_ColorSurf);
        set_colour(label, styled.curve, XCAFDoc_ColorCurv);
    }

    void set_colour(const TDF_Label& label, const std::optional<part::Colour>& colour, XCAFDoc_ColorType type) {
        if (colour)
            colours_->SetColor(label, Quantity_Color(colour->red, colour->green, colour->blue, Quantity_TOC_sRGB),
                               type);
    }

    const part::Model& model_;
    std::string nameless_;
    Handle(XCAFDoc_ShapeTool) shapes_;
    Handle(XCAFDoc_ColorTool) colours_;
    std::vector<TDF_Label> labels_; ///< of each product, null until it is made
};

} // namespace

Handle(TDocStd_Document) document_of(const part::Model& model, const std::string& nameless) {
    Handle(TDocStd_Document) document;
    XCAFApp_Application::GetApplication()->NewDocument("MDTV-XCAF", document);
    Construction(model, nameless, document->Main()).run();
    return document;
}

} // namespace touchmark::deliver

// SPDX-License-Identifier: MIT
#include "core/part/xcaf_model.h"

#include <NCollection_DataMap.hxx>
#include <Quantity_Color.hxx>
#include <TCollection_AsciiString.hxx>
#include <TDF_LabelMapHasher.hxx>
#include <TDF_LabelSequence.hxx>
#include <TDataStd_Name.hxx>
#include <XCAFDoc_ColorTool.hxx>
#include <XCAFDoc_DocumentTool.hxx>
#include <XCAFDoc_ShapeTool.hxx>

namespace touchmark::part {
namespace {

std::string name_of(const TDF_Label& label) {
    Handle(TDataStd_Name) name;
    if (!label.FindAttribute(TDataStd_Name::GetID(), name)) return {};
    const TCollection_AsciiString utf8(name->Get());
    return {utf8.ToCString(), static_cast<std::size_t>(utf8.Length())};
}

class Extraction {
public:
    explicit Extraction(const TDF_Label& main)
        : shapes_(XCAFDoc_DocumentTool::ShapeTool(main)), colours_(XCAFDoc_DocumentTool::ColorTool(main)) {}

    Model run() {
        TDF_LabelSequence free;
        shapes_->GetFreeShapes(free);
        for (const TDF_Label& label : free) {
            Instance root;
            root.location = XCAFDoc_ShapeTool::GetLocation(label);
            root.product = product_at(label);
            model_.roots.push_back(std::move(root));
        }
        if (!model_.roots.empty())
            model_.name = model_.products[static_cast<std::size_t>(model_.roots[0].product)].name;
        return std::move(model_);
    }

private:
    std::optional<Colour> colour_of(const TDF_Label& label, XCAFDoc_ColorType type) const {
        Quantity_Color colour;
        if (!colours_->GetColor(label, type, colour)) return std::nullopt;
        double red, green, blue;
        colour.Values(red, green, blue, Quantity_TOC_sRGB);
        return Colour{static_cast<float>(red), static_cast<float>(green), static_cast<float>(blue)};
    }
    std::optional<Colour> surface_colour(const TDF_Label& label) const {
        const auto colour = colour_of(label, XCAFDoc_ColorSurf);
        return colour ? colour : colour_of(label, XCAFDoc_ColorGen);
    }

    int product_at(const TDF_Label& label) {
        if (const int* known = known_.Seek(label)) return *known;
        const int index = static_cast<int>(model_.products.size());
        known_.Bind(label, index);
        model_.products.emplace_back();
        Product product;
        product.name = name_of(label);
        product.colour = surface_colour(label);
        if (XCAFDoc_ShapeTool::IsAssembly(label))
            add_children(label, product);
        else
            add_shape(label, product);
        model_.products[static_cast<std::size_t>(index)] = std::move(product);
        return index;
    }

    void add_children(const TDF_Label& label, Product& product) {
        TDF_LabelSequence components;
        XCAFDoc_ShapeTool::GetComponents(label, components);
        for (const TDF_Label& component : components) {
            TDF_Label referred;
            if (!XCAFDoc_ShapeTool::GetReferredShape(component, referred)) continue;
            Instance instance;
            instance.location = XCAFDoc_ShapeTool::GetLocation(component);
            instance.name = name_of(component);
            instance.colour = surface_colour(component);
            instance.product = product_at(referred);
            product.children.push_back(std::move(instance));
        }
    }

    void add_shape(const TDF_Label& label, Product& product) {
        product.shape = XCAFDoc_ShapeTool::GetShape(label);
        TDF_LabelSequence subs;
        XCAFDoc_ShapeTool::GetSubShapes(label, subs);
        for (const TDF_Label& sub : subs) {
            Styled styled;
            styled.shape = XCAFDoc_ShapeTool::GetShape(sub);
            styled.name = name_of(sub);
            styled.surface = surface_colour(sub);
            styled.curve = colour_of(sub, XCAFDoc_ColorCurv);
            if (styled.shape.IsNull() || (styled.name.empty() && !styled.surface && !styled.curve)) continue;
            product.styled.push_back(std::move(styled));
        }
    }

    Handle(XCAFDoc_ShapeTool) shapes_;
    Handle(XCAFDoc_ColorTool) colours_;
    NCollection_DataMap<TDF_Label, int, TDF_LabelMapHasher> known_;
    Model model_;
};

} // namespace

Model model_of(const Handle(TDocStd_Document) & document) {
    return Extraction(document->Main()).run();
}

} // namespace touchmark::part

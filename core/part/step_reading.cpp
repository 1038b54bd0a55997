// SPDX-License-Identifier: MIT
#include "core/part/step_reading.h"

#include "core/part/byte_stream.h"
#include "core/part/guard.h"
#include "core/part/sub_shape_names.h"
#include "core/part/xcaf_model.h"

#include <IFSelect_ReturnStatus.hxx>
#include <Interface_InterfaceModel.hxx>
#include <Interface_Static.hxx>
#include <Message.hxx>
#include <Message_Messenger.hxx>
#include <Message_Printer.hxx>
#include <Resource_FormatType.hxx>
#include <STEPCAFControl_Controller.hxx>
#include <STEPCAFControl_ExternFile.hxx>
#include <STEPCAFControl_Reader.hxx>
#include <StepBasic_ProductDefinition.hxx>
#include <StepRepr_NextAssemblyUsageOccurrence.hxx>
#include <TDocStd_Document.hxx>
#include <TopExp_Explorer.hxx>
#include <XCAFDoc_ShapeTool.hxx>
#include <XSControl_WorkSession.hxx>

#include <algorithm>
#include <istream>
#include <limits>
#include <optional>
#include <unordered_map>

namespace touchmark::part {
namespace {

/// OpenCASCADE's names of units and those of STEP files, as a person in a shop writes them.
std::string unit_name(std::string name) {
    if (name == "millimetre" || name == "milimetre" || name == "millimeter" || name == "mm") return "mm";
    if (name == "metre" || name == "meter" || name == "m") return "m";
    if (name == "centimetre" || name == "centimeter") return "cm";
    if (name == "inch" || name == "inches" || name == "in") return "inch";
    if (name == "foot" || name == "feet" || name == "ft") return "foot";
    return name.empty() ? "mm" : name;
}

std::string missing_files(const STEPCAFControl_Reader& reader) {
    std::string names;
    for (NCollection_DataMap<TCollection_AsciiString, Handle(STEPCAFControl_ExternFile)>::Iterator item(
             reader.ExternFiles());
         item.More(); item.Next()) {
        if (item.Value()->GetLoadStatus() == IFSelect_RetDone) continue;
        if (!names.empty()) names += ", ";
        names += item.Key().ToCString();
    }
    return names;
}

void set_modes(STEPCAFControl_Reader& reader, Encoding encoding) {
    reader.SetNameMode(Standard_True);
    reader.SetColorMode(Standard_True);
    reader.SetLayerMode(Standard_False);
    reader.SetPropsMode(Standard_False);
    reader.SetGDTMode(Standard_False);
    reader.SetMatMode(Standard_False);
    reader.SetViewMode(Standard_False);
    Interface_Static::SetIVal("read.step.codepage",
                              encoding == Encoding::latin1 ? Resource_FormatType_CP1252 : Resource_FormatType_UTF8);
}

/// How many products an assembly places in all, counted over its usages without placing them; infinite for a cycle.
class Placements {
public:
    explicit Placements(const Handle(Interface_InterfaceModel) & model) {
        for (int i = 1; i <= model->NbEntities(); ++i) {
            const Handle(Standard_Transient)& entity = model->Value(i);
            if (entity.IsNull() || entity->DynamicType() != STANDARD_TYPE(StepRepr_NextAssemblyUsageOccurrence))
                continue;
            const auto usage = Handle(StepRepr_NextAssemblyUsageOccurrence)::DownCast(entity);
            const void* assembly = usage->RelatingProductDefinition().get();
            const void* part = usage->RelatedProductDefinition().get();
            if (assembly && part) parts_[assembly].push_back(part);
        }
    }
    [[nodiscard]] double most() {
        double most = 0;
        for (const auto& [assembly, parts] : parts_)
            most = std::max(most, of(assembly));
        return most;
    }

private:
    double of(const void* product) {
        const auto [known, fresh] = counts_.try_emplace(product, std::numeric_limits<double>::infinity());
        if (!fresh) return known->second; // infinite while it is being counted
        double count = 1;
        if (const auto parts = parts_.find(product); parts != parts_.end())
            for (const void* part : parts->second)
                count += of(part);
        return counts_[product] = count;
    }

    std::unordered_map<const void*, std::vector<const void*>> parts_;
    std::unordered_map<const void*, double> counts_;
};

struct Built {
    bool any = false; ///< a shape at all
    std::size_t solids = 0, faces = 0;
};

Built built_in(const Model& model) {
    Built built;
    for (const Product& product : model.products) {
        if (product.shape.IsNull()) continue;
        for (TopExp_Explorer item(product.shape, TopAbs_VERTEX); item.More() && !built.any; item.Next())
            built.any = true;
        for (TopExp_Explorer item(product.shape, TopAbs_SOLID); item.More(); item.Next())
            ++built.solids;
        for (TopExp_Explorer item(product.shape, TopAbs_FACE); item.More(); item.Next())
            ++built.faces;
    }
    return built;
}

/// What OpenCASCADE passes over in silence: it says "done" when nothing, or not everything, could be built.
std::optional<Error> shortfall(const Model& model, const Prescan& prescan, const std::string& name) {
    const std::string repair = "Repair the part in the design program and export it again.";
    const std::string cause =
        prescan.dangling ? " It refers to #" + std::to_string(prescan.dangling) + ", which is missing." : std::string();
    const Built built = built_in(model);
    if (!built.any && prescan.points <= 1)
        return Error{"part.empty", "\"" + name + "\" holds no geometry.",
                     "Export the part again; nothing was selected or visible, perhaps."};
    if (!built.any)
        return Error{"part.bad_geometry",
                     "\"" + name + "\" describes geometry, but no shape can be built from it." + cause, repair};
    if (built.solids > 0) return std::nullopt;
    if (prescan.solids > 0)
        return Error{"part.no_solid", "The solid in \"" + name + "\" has gaps: faces are missing or damaged." + cause,
                     repair};
    const std::string holds = built.faces > 0 ? "surfaces" : "curves";
    return Error{"part.no_solid", "\"" + name + "\" holds " + holds + " but no solid." + cause,
                 "Close them into a solid in the design program and export again; text needs material to stand on."};
}

void note_losses(Model& model, const Prescan& prescan) {
    const std::size_t solids = built_in(model).solids;
    if (solids < prescan.solids)
        model.notes.push_back({"part.incomplete",
                               std::to_string(prescan.solids - solids) + " of the " + std::to_string(prescan.solids) +
                                   " solids in the file could not be read.",
                               -1});
}

} // namespace

Error too_many_bodies(const std::string& name) {
    return {"part.too_large", "\"" + name + "\" places its parts more than a million times.",
            "Open a single part of it instead of the assembly."};
}

void silence_opencascade() {
    Message::DefaultMessenger()->ChangePrinters().Clear();
}

void prepare_step_reader() {
    static const bool prepared [[maybe_unused]] = [] { // once: what is forked after that has it already
        STEPCAFControl_Controller::Init();
        const STEPCAFControl_Reader warm;
        return true;
    }();
    XCAFDoc_ShapeTool::SetAutoNaming(Standard_False);
}

Result<Model> read_step(std::span<const char> bytes, const std::filesystem::path& file, const Prescan& prescan,
                        const Progress& progress) {
    const std::string name = file.filename().string();
    prepare_step_reader();
    // Never taken down: the process ends with this file, and taking down a large one takes long.
    STEPCAFControl_Reader& reader = *new STEPCAFControl_Reader;
    set_modes(reader, prescan.encoding);
    progress.report(0.02, "Reading " + name);
    MemoryView view(bytes);
    std::istream stream(&view);
    if (reader.ChangeReader().ReadStream(file.c_str(), stream) != IFSelect_RetDone)
        return fail("part.bad_geometry", "\"" + name + "\" breaks the rules of a STEP file and cannot be read.",
                    "Export the part again, if possible by another version of STEP (AP214, AP242).");
    if (Placements(reader.ChangeReader().WS()->Model()).most() > most_bodies)
        return std::unexpected(too_many_bodies(name));       // before OpenCASCADE goes through them one by one
    reader.ChangeReader().WS()->SetLoadedFile(file.c_str()); // external references are looked for beside it
    progress.report(0.3, "Building the solids of " + name);
    Handle(TDocStd_Document) document = new TDocStd_Document("BinXCAF");
    document->IncrementRefCounter(); // kept for good as well
    Handle(ProgressBridge) bridge = new ProgressBridge(progress, "Building the solids of " + name, 0.3, 0.9);
    reader.Transfer(document, bridge->Start());
    if (progress.cancelled()) return fail(std::string(cancelled_code), "Cancelled.");
    if (const std::string missing = missing_files(reader); !missing.empty())
        return fail("part.missing_reference",
                    "\"" + name + "\" refers to files that are missing or unreadable: " + missing + ".",
                    "Put them into the folder of \"" + name + "\".");
    Model model = model_of(document);
    if (auto lacking = shortfall(model, prescan, name)) return std::unexpected(std::move(*lacking));
    if (reader.ExternFiles().IsEmpty()) note_losses(model, prescan);
    add_sub_shape_names(reader, model);
    model.schema = prescan.schema;
    model.unit = unit_name(prescan.unit);
    if (model.name.empty()) model.name = file.stem().string();
    return model;
}

} // namespace touchmark::part

// SPDX-License-Identifier: MIT
#include "core/deliver/reference_step.h"

#include "core/base/atomic_file.h"
#include "core/deliver/step_text.h"
#include "core/deliver/step_verify.h"
#include "core/deliver/xcaf_document.h"
#include "core/part/guard.h"

#include <APIHeaderSection_MakeHeader.hxx>
#include <Interface_Static.hxx>
#include <Message.hxx>
#include <Message_Messenger.hxx>
#include <STEPCAFControl_Controller.hxx>
#include <StepData_StepModel.hxx>
#include <TCollection_HAsciiString.hxx>
#include <XCAFApp_Application.hxx>

#include <algorithm>
#include <chrono>
#include <fstream>
#include <mutex>

namespace touchmark::deliver {
namespace {

using Clock = std::chrono::steady_clock;

/// OpenCASCADE's writing parameters and its application are global: one file is written at a time.
std::mutex& writing() {
    static std::mutex mutex;
    return mutex;
}

double seconds_since(Clock::time_point start) {
    return std::chrono::duration<double>(Clock::now() - start).count();
}

struct Unit {
    const char *name, *key;
    double mm;
};

constexpr Unit units[] = {
    {"mm", "MM", 1}, {"inch", "INCH", 25.4}, {"m", "M", 1000}, {"cm", "CM", 10}, {"foot", "FT", 304.8}};

const Unit& unit_of(const std::string& name) {
    for (const Unit& unit : units)
        if (name == unit.name) return unit;
    return units[0];
}

void set_parameters(const part::Part& part, const StepOptions& options, ParameterCurves curves) {
    STEPCAFControl_Controller::Init();
    Interface_Static::SetCVal("write.step.schema", options.schema == StepSchema::ap242 ? "AP242DIS" : "AP214IS");
    Interface_Static::SetCVal("write.step.unit", unit_of(part.file_unit()).key);
    Interface_Static::SetIVal("write.surfacecurve.mode", curves == ParameterCurves::written ? 1 : 0);
    Interface_Static::SetIVal("write.stepcaf.subshapes.name", 1);
    Interface_Static::SetIVal("write.step.assembly", 2); // as the document says
}

void write_header(const Handle(StepData_StepModel) & model, const part::Part& part, const std::filesystem::path& target,
                  const StepOptions& options) {
    const auto text = [](const std::string& value) { return new TCollection_HAsciiString(value.c_str()); };
    APIHeaderSection_MakeHeader header(model);
    header.SetName(text(target.filename().string()));
    header.SetAuthorValue(1, text(options.author));
    header.SetOrganizationValue(1, text(options.organisation));
    header.SetOriginatingSystem(text("Touchmark " TOUCHMARK_VERSION));
    header.SetAuthorisation(text(""));
    header.SetDescriptionValue(1, text(part.name()));
}

/// Closes the document when it goes: the application would keep it for good.
class OpenDocument {
public:
    explicit OpenDocument(Handle(TDocStd_Document) document) : document_(std::move(document)) {}
    OpenDocument(const OpenDocument&) = delete;
    OpenDocument& operator=(const OpenDocument&) = delete;
    ~OpenDocument() { XCAFApp_Application::GetApplication()->Close(document_); }
    [[nodiscard]] const Handle(TDocStd_Document) & get() const { return document_; }

private:
    Handle(TDocStd_Document) document_;
};

Status cancelled_status() {
    return fail(std::string(cancelled_code), "Cancelled.");
}

Status write_with_opencascade(const part::Part& part, const std::filesystem::path& target,
                              const std::filesystem::path& temporary, const StepOptions& options,
                              ParameterCurves curves, const Progress& progress,
                              const std::function<void(STEPCAFControl_Writer&)>& inspect) {
    return part::guarded("deliver.write", "Writing " + target.filename().string(), [&]() -> Status {
        const std::scoped_lock lock(writing());
        Message::DefaultMessenger()->ChangePrinters().Clear();
        set_parameters(part, options, curves);
        const OpenDocument document(document_of(part::model(part), target.stem().string()));
        STEPCAFControl_Writer writer;
        writer.SetColorMode(true);
        writer.SetNameMode(true);
        const Handle(part::ProgressBridge) bridge = new part::ProgressBridge(progress, "Writing STEP");
        const bool done = writer.Transfer(document.get(), STEPControl_AsIs, nullptr, bridge->Start());
        if (progress.cancelled()) return cancelled_status();
        if (!done) return fail("deliver.write", "The part could not be put into STEP.", "Try the other STEP version.");
        write_header(writer.ChangeWriter().Model(), part, target, options);
        if (writer.Write(temporary.c_str()) != IFSelect_RetDone)
            return fail("deliver.write", "Cannot write in " + target.parent_path().string() + ".",
                        "Check that the disk is not full.");
        if (inspect) inspect(writer);
        return {};
    });
}

/// Strings as the standard wants them.
Status encode_strings(const std::filesystem::path& path) {
    const auto text = read_text(path, std::size_t{4} << 30);
    if (!text) return std::unexpected(text.error());
    const std::string encoded = with_encoded_strings(*text);
    if (encoded == *text) return {};
    std::ofstream stream(path, std::ios::binary | std::ios::trunc);
    stream.write(encoded.data(), static_cast<std::streamsize>(encoded.size()));
    stream.close();
    if (!stream)
        return fail("file.not_writable", "Cannot write " + path.string() + ".", "Check that the disk is not full.");
    return {};
}

} // namespace

Status write_reference(const part::Part& part, const std::filesystem::path& target,
                       const std::filesystem::path& temporary, const StepOptions& options, ParameterCurves curves,
                       const Progress& progress, const std::function<void(STEPCAFControl_Writer&)>& inspect) {
    Status written = write_with_opencascade(part, target, temporary, options, curves, progress, inspect);
    if (written) written = encode_strings(temporary);
    return written;
}

Status read_back(const part::Part& meant, const std::filesystem::path& file, const StepOptions& options,
                 part::Reader& reader, const Progress& progress, StepReport& report) {
    const auto start = Clock::now();
    progress.report(-1, "Reading back what was written");
    const auto back = reader.read(file, progress);
    if (!back) {
        if (back.error().code == cancelled_code) return std::unexpected(back.error());
        return fail("deliver.verify", "What was written cannot be read back: " + back.error().message,
                    "Nothing was saved. Try the other STEP version.");
    }
    report.volume_mm3 = (*back)->volume_mm3();
    report.solids = static_cast<int>(std::ranges::count_if((*back)->bodies(), &part::Body::solid));
    report.faces = static_cast<int>((*back)->faces().size());
    Status same = part::guarded("deliver.verify", "Checking what was written",
                                [&]() -> Status { return same_part(meant, **back, options); });
    report.seconds_verify += seconds_since(start);
    if (same && progress.cancelled()) return cancelled_status();
    return same;
}

double unit_in_mm(const std::string& unit) {
    return unit_of(unit).mm;
}

} // namespace touchmark::deliver

// SPDX-License-Identifier: MIT
#include "core/deliver/appended_step.h"

#include "core/base/atomic_file.h"
#include "core/base/temporary_file.h"
#include "core/deliver/appended_check.h"
#include "core/deliver/reference_step.h"
#include "core/part/guard.h"

#include <algorithm>
#include <chrono>
#include <cmath>
#include <fstream>
#include <list>
#include <mutex>

namespace touchmark::deliver {
namespace {

using UnmarkedPtr = std::shared_ptr<const Unmarked>;
using Clock = std::chrono::steady_clock;

double seconds_since(Clock::time_point start) {
    return std::chrono::duration<double>(Clock::now() - start).count();
}

/// What has no name takes the target's.
bool has_nameless_products(const part::Model& model) {
    return model.name.empty() || std::ranges::any_of(model.products, [](const auto& p) { return p.name.empty(); });
}

Digest key_of(const part::Part& part, const std::filesystem::path& target, const StepOptions& options) {
    Digester digester;
    digester.add("unmarked").add(part.digest()).add(options.schema);
    digester.add(has_nameless_products(part::model(part)) ? target.stem().string() : std::string());
    return digester.digest();
}

} // namespace

Result<UnmarkedPtr> write_unmarked(const part::PartPtr& part, const std::filesystem::path& target, StepSchema schema,
                                   part::Reader& reader, const Progress& progress) {
    const TemporaryFile file;
    if (file.path().empty())
        return fail("file.not_writable", "Cannot write in " + std::filesystem::temp_directory_path().string() + ".");
    const auto start = Clock::now();
    auto out = std::make_shared<Unmarked>();
    out->part = part;
    out->unit_mm = unit_in_mm(part->file_unit());
    const StepOptions plain{.schema = schema};
    Status done =
        write_reference(*part, target, file.path(), plain, ParameterCurves::omitted, progress,
                        [&](STEPCAFControl_Writer& writer) { out->shapes = entities_of(part::model(*part), writer); });
    if (!done) return std::unexpected(done.error());
    if (done = read_back(*part, file.path(), plain, reader, progress, out->report); !done)
        return std::unexpected(done.error());
    auto text = read_text(file.path(), std::size_t{4} << 30);
    if (!text) return std::unexpected(text.error());
    auto parsed = Exchange::parse(*std::move(text));
    if (!parsed) return std::unexpected(parsed.error());
    out->file = *std::move(parsed);
    link(*out);
    out->report.seconds_write = seconds_since(start) - out->report.seconds_verify;
    return out;
}

/// The last few, the latest first.
struct StepStore::Impl {
    static constexpr std::size_t most = 4;
    std::mutex mutex;
    std::list<std::pair<Digest, UnmarkedPtr>> kept;

    UnmarkedPtr find(const Digest& key, const part::PartPtr& part) {
        const std::scoped_lock lock(mutex);
        const auto found = std::ranges::find_if(
            kept, [&](const auto& entry) { return entry.first == key && entry.second->part == part; });
        if (found == kept.end()) return nullptr;
        kept.splice(kept.begin(), kept, found);
        return kept.front().second;
    }
    void keep(const Digest& key, UnmarkedPtr unmarked) {
        const std::scoped_lock lock(mutex);
        kept.emplace_front(key, std::move(unmarked));
        if (kept.size() > most) kept.pop_back();
    }
};

StepStore::StepStore() : impl_(std::make_unique<Impl>()) {}
StepStore::~StepStore() = default;

namespace {

Result<UnmarkedPtr> unmarked_for(const std::filesystem::path& target, const StepOptions& options, part::Reader& reader,
                                 const Progress& progress) {
    const Digest key = key_of(*options.unmarked, target, options);
    if (options.store)
        if (UnmarkedPtr known = options.store->impl().find(key, options.unmarked)) return known;
    Result<UnmarkedPtr> fresh = write_unmarked(options.unmarked, target, options.schema, reader, progress);
    if (fresh && options.store) options.store->impl().keep(key, *fresh);
    return fresh;
}

Status write_bytes(const std::filesystem::path& path, const std::string& text) {
    std::ofstream stream(path, std::ios::binary | std::ios::trunc);
    stream.write(text.data(), static_cast<std::streamsize>(text.size()));
    stream.close();
    if (stream) return {};
    return fail("file.not_writable", "Cannot write " + path.string() + ".", "Check that the disk is not full.");
}

/// The volume by what was found in the text, against what it was to be: of the copy, and much closer of the marks.
bool right_volume(const part::Part& part, const StepOptions& options, double found_change, double found) {
    const double wanted = options.volume_mm3.value_or(part.volume_mm3());
    const double tolerance =
        options.volume_tolerance_mm3 > 0 ? options.volume_tolerance_mm3 : std::max(1e-6, 1e-6 * std::abs(wanted));
    const double change = part.volume_mm3() - options.unmarked->volume_mm3();
    return std::abs(found_change - change) <= 1e-5 * std::abs(change) + 1e-9 * std::abs(part.volume_mm3()) &&
           std::abs(found - wanted) <= tolerance;
}

Status check(const part::Part& part, const std::filesystem::path& file, const StepOptions& options,
             const Unmarked& unmarked, const Changes& changes, const Appended& meant, part::Reader& reader,
             const Progress& progress, StepReport& report) {
    const auto start = Clock::now();
    progress.report(-1, "Reading back what was written");
    auto text = read_text(file, std::size_t{4} << 30);
    if (!text) return std::unexpected(text.error());
    const auto copy = Exchange::parse(*std::move(text));
    if (!copy) return std::unexpected(copy.error());
    const auto found = check_appended(*copy, unmarked, changes, meant);
    if (!found) return std::unexpected(found.error());
    report.seconds_verify = seconds_since(start);
    const double change = *found ? (*found)->volume_change_mm3 : 0, volume = unmarked.report.volume_mm3 + change;
    report.whole_read_back = !*found || !right_volume(part, options, change, volume);
    if (report.whole_read_back) return read_back(part, file, options, reader, progress, report);
    report.volume_mm3 = volume;
    report.solids = unmarked.report.solids + static_cast<int>(changes.bodies.size());
    report.faces = static_cast<int>(part.faces().size());
    if (progress.cancelled()) return fail(std::string(cancelled_code), "Cancelled.");
    return {};
}

} // namespace

Result<StepReport> write_appended(const part::Part& part, const std::filesystem::path& target,
                                  const StepOptions& options, part::Reader& reader, const Progress& progress) {
    if (progress.cancelled()) return fail(std::string(cancelled_code), "Cancelled.");
    const auto unmarked = unmarked_for(target, options, reader, progress);
    if (!unmarked) return std::unexpected(unmarked.error());
    StepReport report;
    report.route = StepRoute::appended;
    const auto start = Clock::now();
    progress.report(-1, "Writing STEP");
    const auto changes = part::guarded("deliver.write", "Comparing the marked part",
                                       [&] { return changes_of(**unmarked, part::model(part)); });
    if (!changes) return std::unexpected(changes.error());
    const auto copy = part::guarded("deliver.write", "Writing the marks", [&] {
        return appended(**unmarked, *changes, {target.filename().string(), options.author, options.organisation});
    });
    if (!copy) return std::unexpected(copy.error());
    report.bytes = copy->text.size();
    const Status done = write_atomically(
        target,
        [&](const std::filesystem::path& temporary) {
            Status bytes = write_bytes(temporary, copy->text);
            report.seconds_write = seconds_since(start);
            return bytes;
        },
        [&](const std::filesystem::path& temporary) {
            return check(part, temporary, options, **unmarked, *changes, *copy, reader, progress, report);
        });
    if (!done) return std::unexpected(done.error());
    return report;
}

} // namespace touchmark::deliver

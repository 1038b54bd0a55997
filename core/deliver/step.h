// SPDX-License-Identifier: MIT
#pragma once

#include "core/part/part.h"
#include "core/part/reader.h"

namespace touchmark::deliver {

enum class StepSchema { ap214, ap242 };

/// `reference`: OpenCASCADE writes the whole part. `appended`: the unmarked part's text, to which the marks are added.
enum class StepRoute { reference, appended };
[[nodiscard]] std::string_view key_of(StepRoute route);

/// Unmarked parts as they were written, kept for the marked copies still to come: the last few. May be used from
/// several threads.
class StepStore {
public:
    StepStore();
    ~StepStore();
    StepStore(const StepStore&) = delete;
    StepStore& operator=(const StepStore&) = delete;

    struct Impl;
    [[nodiscard]] Impl& impl() { return *impl_; }

private:
    std::unique_ptr<Impl> impl_;
};

struct StepOptions {
    StepSchema schema = StepSchema::ap242;
    /// What the solids' volume must be on reading back, mm³, and how far off it may be; from the part itself when
    /// absent.
    std::optional<double> volume_mm3 = std::nullopt;
    double volume_tolerance_mm3 = 0; ///< 0: 1e-6 of the volume, at least 1e-6 mm³
    std::string author = {}, organisation = {};
    /// The part that this one was made from by marking it; with it the marks are added to its text where they can be.
    /// Null: OpenCASCADE writes the whole.
    part::PartPtr unmarked = nullptr;
    std::shared_ptr<StepStore> store = nullptr; ///< where its text is kept; null: it is written for this copy alone
};

struct StepReport {
    double seconds_write = 0, seconds_verify = 0;
    double volume_mm3 = 0;     ///< as read back
    int solids = 0, faces = 0; ///< as read back
    std::uintmax_t bytes = 0;
    StepRoute route = StepRoute::reference;
    /// Whether the whole file was read back. An appended copy is mostly checked by what was added to a text that was
    /// read back before (appended_check.h).
    bool whole_read_back = true;
    std::string reason = {}; ///< why it was not appended, where it was asked for
};

/// Writes units, product structure, names and colours; beside the target, read back and checked (by `reader`: valid,
/// closed, same counts and volume), then renamed. Nothing is half-written: on any error or kill the target is as it
/// was.
///
/// The marks are added to the unmarked part's text when products, instances and placements are the same, the bodies and
/// shells of the unmarked part are all there, names and colours have stayed where they were, and the new faces and
/// curves are of kinds that can be written without approximation (geometry_entities.h). Else, and when a copy made that
/// way does not pass its check, OpenCASCADE writes the whole. Errors: "deliver.write", "deliver.verify" (says what
/// differs), file errors, "cancelled".
[[nodiscard]] Result<StepReport> write_step(const part::Part& part, const std::filesystem::path& target,
                                            const StepOptions& options, part::Reader& reader, const Progress& progress);

} // namespace touchmark::deliver

// SPDX-License-Identifier: MIT
#pragma once

#include "core/pipeline/store.h"

namespace touchmark::pipeline {

struct Widths {
    std::shared_ptr<const std::vector<geometry::Narrow>> strokes, gaps;
    std::shared_ptr<const std::vector<geometry::Stretch>> stroke_stretches, gap_stretches;
};

/// Derives marks from jobs on one part with one process; what the findings and the trials of their fixes come from
/// alike.
class Derivation final : public rules::WhatIf {
public:
    /// Meshes the part when it is new. REQUIRES: store, process and progress outlive the derivation.
    /// Errors: "cancelled", "part.mesh".
    [[nodiscard]] static Result<Derivation> start(Store& store, const Surroundings& around,
                                                  const process::Process& process, const plate::Pose& pose,
                                                  const Progress& progress);

    [[nodiscard]] rules::MarkView view(const job::Job& job, std::size_t mark, rules::Need need) const override;
    [[nodiscard]] std::vector<rules::MarkView> views(const job::Job& job, std::size_t mark,
                                                     rules::Need need) const override;
    [[nodiscard]] std::optional<Vec2> shift_inward(const rules::MarkView& view, double wanted) const override;
    [[nodiscard]] std::vector<plate::Standing> standings(Vec3 wall_normal) const override;

    [[nodiscard]] const plate::Meshes& meshes() const { return *meshes_; }
    [[nodiscard]] std::shared_ptr<const Stand> stand(const plate::Pose& pose) const;

private:
    Derivation(Store& store, const Surroundings& around, const process::Process& process, const plate::Pose& pose,
               const Progress& progress)
        : store_(&store), around_(around), process_(&process), pose_(pose), progress_(&progress) {}

    [[nodiscard]] Widths widths(const content::Content& content, const content::Drawn& own) const;
    /// `said`: the mark's content in the unit that is looked at.
    [[nodiscard]] rules::MarkView view_of(const job::Job& job, const job::Mark& mark,
                                          const Result<content::Content>& said, rules::Need need) const;
    [[nodiscard]] Digester on_face_key(const rules::MarkView& view) const;
    /// Bridges and widths.
    void measure(rules::MarkView& view) const;
    void find_lookalikes(rules::MarkView& view) const;
    void place(rules::MarkView& view, rules::Need need) const;
    [[nodiscard]] std::shared_ptr<const imprint::Obstacles> obstacles() const; ///< null: cancelled
    /// In simulation; `now`: also where it takes time.
    void print(const job::Job& job, rules::MarkView& view, bool now) const;

    Store* store_;
    Surroundings around_;
    const process::Process* process_;
    plate::Pose pose_;
    const Progress* progress_;
    std::shared_ptr<const plate::Meshes> meshes_;
};

/// The steps that evaluate() and build() share, each remembered.
[[nodiscard]] Result<std::shared_ptr<const content::Drawn>>
drawn(Store& store, const content::Content& content, const std::shared_ptr<const content::FontLibrary>& fonts,
      const Progress& progress);
/// The key under which that drawing is remembered.
[[nodiscard]] Digest content_key(const content::Content& content, const content::FontLibrary* fonts);
/// The map that the mark is laid in. Also refuses a face that is not the one the mark was put on
/// ("pipeline.face_lost").
[[nodiscard]] Result<surface::FaceMapPtr> mapped(Store& store, const part::PartPtr& part, const job::Mark& mark,
                                                 const Progress& progress);

} // namespace touchmark::pipeline

// SPDX-License-Identifier: MIT
#pragma once

#include "core/pipeline/evaluate.h"
#include "core/print/fidelity.h"
#include "core/print/modules.h"

namespace touchmark::pipeline {

/// One letter or other piece of a mark as it comes out.
struct PrintedPiece {
    std::string label;
    print::Fidelity fidelity;
};

/// A mark printed in simulation.
struct PrintedMark {
    print::Printed printed;
    std::vector<PrintedPiece> pieces;
    std::optional<print::ModuleCount> modules; ///< of a code
    double bearable_share = 0;                 ///< of wrong modules

    enum class Verdict { reads, at_risk, lost };
    /// By the worst piece; of a code by its modules, of which half the bearable share may be wrong.
    [[nodiscard]] Verdict verdict() const;
    /// nullptr without pieces.
    [[nodiscard]] const PrintedPiece* worst() const;
};
[[nodiscard]] std::string_view key_of(PrintedMark::Verdict verdict); ///< "reads", "at_risk", "lost"

/// How a mark of an evaluation stands to the layers, by where its anchor is. REQUIRES: the mark has a map.
[[nodiscard]] print::Standing standing_of(const Evaluation& evaluation, std::size_t mark,
                                          const process::Process& process);

/// Errors: those of simulate(), "pipeline.not_drawn" (the mark has no outline or no face).
[[nodiscard]] Result<PrintedMark> print_mark(const Evaluation& evaluation, std::size_t mark,
                                             const process::Process& process, const Progress& progress);

} // namespace touchmark::pipeline

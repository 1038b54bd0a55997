// SPDX-License-Identifier: MIT
#pragma once

#include "core/print/code_reading.h"
#include "core/print/fidelity.h"
#include "core/print/light_through.h"
#include "core/print/modules.h"

#include <optional>
#include <string>
#include <string_view>

namespace touchmark::print {

/// One letter or other piece of a mark as it comes out.
struct PrintedPiece {
    std::string label;
    Box2 box; ///< mark mm
    Fidelity fidelity;
};

enum class Verdict { reads, at_risk, lost };
[[nodiscard]] std::string_view key_of(Verdict verdict); ///< "reads", "at_risk", "lost"

/// A mark printed in simulation, and what can be read of it.
struct PrintedMark {
    Printed printed;
    Standing standing;
    std::vector<PrintedPiece> pieces;   ///< of a code the lettering beneath
    std::optional<ModuleCount> modules; ///< of a code
    double bearable_share = 0;          ///< of wrong modules
    std::optional<CodeReading> reading; ///< of a code
    std::optional<LightThrough> light;  ///< of a hidden mark

    [[nodiscard]] Verdict verdict() const; ///< the worse of the two
    /// By the worst piece.
    [[nodiscard]] Verdict lettering_verdict() const;
    /// Of a code: lost where more modules are wrong than its correction bears for sure or it is read in no light; at
    /// risk where more than half of that are wrong, or not every even light reads it.
    [[nodiscard]] Verdict code_verdict() const;
    /// nullptr without pieces.
    [[nodiscard]] const PrintedPiece* worst() const;
};

} // namespace touchmark::print

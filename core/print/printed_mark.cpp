// SPDX-License-Identifier: MIT
#include "core/print/printed_mark.h"

#include <algorithm>

namespace touchmark::print {

std::string_view key_of(Verdict verdict) {
    switch (verdict) {
    case Verdict::reads:
        return "reads";
    case Verdict::at_risk:
        return "at_risk";
    case Verdict::lost:
        return "lost";
    }
    return "lost";
}

const PrintedPiece* PrintedMark::worst() const {
    const auto at =
        std::ranges::min_element(pieces, {}, [](const PrintedPiece& piece) { return piece.fidelity.figure(); });
    return at == pieces.end() ? nullptr : &*at;
}

Verdict PrintedMark::lettering_verdict() const {
    const PrintedPiece* piece = worst();
    if (!piece || piece->fidelity.figure() >= reads_from) return Verdict::reads;
    return piece->fidelity.figure() < lost_below ? Verdict::lost : Verdict::at_risk;
}

Verdict PrintedMark::code_verdict() const {
    if (!modules) return Verdict::reads;
    if (modules->share() > bearable_share) return Verdict::lost;
    if (reading && reading->looked() && !reading->read_in_any()) return Verdict::lost;
    if (2 * modules->share() > bearable_share) return Verdict::at_risk;
    if (reading && !reading->read_in_even_light()) return Verdict::at_risk;
    return Verdict::reads;
}

Verdict PrintedMark::verdict() const {
    return std::max(lettering_verdict(), code_verdict());
}

} // namespace touchmark::print

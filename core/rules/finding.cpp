// SPDX-License-Identifier: MIT
#include "core/rules/finding.h"

#include <utility>

namespace touchmark::rules {

std::string_view key_of(Severity severity) {
    switch (severity) {
    case Severity::blocker:
        return "blocker";
    case Severity::warning:
        return "warning";
    case Severity::advice:
        return "advice";
    }
    std::unreachable();
}

std::string_view title_of(Severity severity) {
    switch (severity) {
    case Severity::blocker:
        return "Will not print";
    case Severity::warning:
        return "At risk";
    case Severity::advice:
        return "Advice";
    }
    std::unreachable();
}

} // namespace touchmark::rules

// SPDX-License-Identifier: MIT
#pragma once

#include "app/tools/surroundings.h"

namespace touchmark::tools {

/// Circles where the selected finding is on the part, the worst spot as number 1; goes there when one is selected.
class FindingSpotsTool : public viewport::Handler {
public:
    explicit FindingSpotsTool(Surroundings& around) : around_(around) {}

    bool handle(QEvent&) override { return false; }
    void paint(QPainter& painter) override;
    /// The session's selection has changed.
    void follow_selection();

private:
    [[nodiscard]] const rules::Finding* finding() const;
    [[nodiscard]] Vec3 normal_at(const rules::Finding& finding) const;

    Surroundings& around_;
    std::optional<std::size_t> shown_;
};

} // namespace touchmark::tools

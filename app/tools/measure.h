// SPDX-License-Identifier: MIT
#pragma once

#include "app/tools/surroundings.h"

#include <functional>

namespace touchmark::tools {

/// The distance between two points of the part that are clicked.
class MeasureTool : public viewport::Handler {
public:
    explicit MeasureTool(Surroundings& around) : around_(around) {}

    bool handle(QEvent& event) override;
    void paint(QPainter& painter) override;
    void set_running(bool running);
    [[nodiscard]] bool running() const { return running_; }
    [[nodiscard]] std::optional<double> distance_mm() const;

    std::function<void(bool)> running_changed;

private:
    Surroundings& around_;
    bool running_ = false;
    std::vector<Vec3> points_; ///< at most two
    std::optional<Vec3> pointer_;
};

} // namespace touchmark::tools

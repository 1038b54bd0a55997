// SPDX-License-Identifier: MIT
#pragma once

#include "app/tools/surroundings.h"

#include <QMenu>
#include <QPointer>
#include <functional>

namespace touchmark::tools {

/// Faces that are clicked are kept clear of marks, for a reason that a menu asks for; or released by the same menu.
class KeepClearTool : public viewport::Handler {
public:
    explicit KeepClearTool(Surroundings& around) : around_(around) {}
    ~KeepClearTool() override { delete menu_; }

    bool handle(QEvent& event) override;
    void paint(QPainter& painter) override;
    void set_running(bool running);
    [[nodiscard]] bool running() const { return running_; }

    std::function<void(bool)> running_changed;

private:
    [[nodiscard]] int face_at(QPointF at) const; ///< -1: none
    void mean(int face);
    void ask(int face, QPoint at);
    void keep(int face, job::ClearReason reason, const QString& note);
    void release(int face);

    Surroundings& around_;
    bool running_ = false;
    int meant_ = -1; ///< the face under the pointer
    QPointF pointer_;
    QPointer<QMenu> menu_;
};

} // namespace touchmark::tools

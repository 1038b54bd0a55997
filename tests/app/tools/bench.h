// SPDX-License-Identifier: MIT
#pragma once

#include "app/session/session.h"
#include "app/tools/toolbox.h"
#include "app/viewport/viewport.h"

#include <gtest/gtest.h>

namespace touchmark::test {

/// The demo part in a viewport with its tools, seen from the front: its upright wall fills most of the view.
class ToolBench : public testing::Test {
protected:
    void SetUp() override;
    void TearDown() override;

    /// Until the newest job has been evaluated.
    void settle();
    /// A mark in the middle of the front wall, selected.
    void add_mark(const std::string& words = "AB", Vec2 at = {-18, 4});
    [[nodiscard]] const job::Mark& mark(std::size_t index = 0) const { return session->job().marks.at(index); }
    [[nodiscard]] QPoint on_screen(Vec3 point) const { return viewport->to_widget(point).toPoint(); }
    /// A mark's origin in part coordinates.
    [[nodiscard]] Vec3 middle_of(const job::Mark& mark) const;
    void drag(QPoint from, QPoint to, Qt::KeyboardModifiers modifiers = {});
    void move_to(QPoint at, Qt::MouseButtons buttons = {}, Qt::KeyboardModifiers modifiers = {});

    std::unique_ptr<session::Session> session;
    std::unique_ptr<viewport::Viewport> viewport;
    std::unique_ptr<tools::Toolbox> toolbox;
    int front = -1; ///< the face that looks to the front
};

} // namespace touchmark::test

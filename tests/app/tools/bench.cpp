// SPDX-License-Identifier: MIT
#include "tests/app/tools/bench.h"

#include "tests/app/session/opened.h"
#include "tests/app/support/application.h"

#include <QMouseEvent>

namespace touchmark::test {

void ToolBench::SetUp() {
    qputenv("TOUCHMARK_VIEWPORT", "raster");
    session = std::make_unique<session::Session>(session_parts());
    viewport = std::make_unique<viewport::Viewport>();
    viewport->resize(900, 640);
    toolbox = std::make_unique<tools::Toolbox>(*session, *viewport);
    viewport->show();
    ASSERT_TRUE(open_and_wait(*session, demo_part()));
    (void)viewport->grab_image();
    viewport->look({0, -1, 0}, {0, 0, 1});
    viewport->arrive();
    (void)viewport->grab_image();
    for (const part::Face& face : session->part()->faces())
        if (face.frame.z.y < -0.99 &&
            (front < 0 || face.area_mm2 > session->part()->faces()[static_cast<std::size_t>(front)].area_mm2))
            front = face.index;
    ASSERT_GE(front, 0);
    settle();
}

void ToolBench::TearDown() {
    toolbox.reset();
    viewport.reset();
    session.reset();
}

void ToolBench::settle() {
    ASSERT_TRUE(wait_until([this] { return session->evaluation_is_final(); }));
    (void)viewport->grab_image();
}

void ToolBench::add_mark(const std::string& words, Vec2 at) {
    job::Mark mark;
    mark.content = content::Text{.text = words};
    mark.anchor.face = front;
    mark.anchor.fingerprint = session->part()->faces()[static_cast<std::size_t>(front)].fingerprint;
    mark.anchor.at = at;
    ASSERT_TRUE(session->edit("New mark", [mark](const job::Job& job) { return job::add_mark(job, mark); }));
    session->select_mark(QString::fromStdString(session->job().marks.back().id));
    settle();
}

Vec3 ToolBench::middle_of(const job::Mark& mark) const {
    return (*surface::map_face(*session->part(), mark.anchor.face))->point(mark.anchor.at);
}

void ToolBench::move_to(QPoint at, Qt::MouseButtons buttons, Qt::KeyboardModifiers modifiers) {
    QMouseEvent move(QEvent::MouseMove, QPointF(at), viewport->mapToGlobal(QPointF(at)), Qt::NoButton, buttons,
                     modifiers);
    QApplication::sendEvent(viewport.get(), &move);
}

void ToolBench::drag(QPoint from, QPoint to, Qt::KeyboardModifiers modifiers) {
    move_to(from);
    QTest::mousePress(viewport.get(), Qt::LeftButton, modifiers, from);
    for (int step = 1; step <= 4; ++step)
        move_to(from + (to - from) * step / 4, Qt::LeftButton, modifiers);
    QTest::mouseRelease(viewport.get(), Qt::LeftButton, modifiers, to);
}

} // namespace touchmark::test

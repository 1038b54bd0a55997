// SPDX-License-Identifier: MIT
#include "app/panels/finding_card.h"
#include "app/panels/marks_rail.h"
#include "app/panels/quantity_field.h"
#include "core/job/parameter.h"
#include "tests/app/window/bench.h"
#include "tests/support/open_parts.h"
#include "tests/support/reader.h"

#include <QComboBox>
#include <QPushButton>
#include <QSignalSpy>

namespace touchmark {
namespace {

/// Open, drag a mark onto a face, read the finding, apply its fix, undo, redo, save, reopen: through mouse and keys
/// alone where a hand would.
class MainJob : public test::Bench {
protected:
    /// With the mouse, from the source at the rail's foot onto the viewport.
    void drag_new_mark_to(QPoint at) {
        auto* source = window->findChild<panels::NewMark*>();
        viewport::Viewport& viewport = window->stage().viewport();
        const QPoint from = source->mapTo(window.get(), source->rect().center()), to = viewport.mapTo(window.get(), at);
        QWindow* native = window->windowHandle();
        QTest::mouseMove(native, from);
        QTest::mousePress(native, Qt::LeftButton, {}, from);
        // The drag runs an event loop of its own as soon as the pointer has moved far enough; the hand goes on in it.
        for (int i = 1; i <= 10; ++i)
            QTimer::singleShot(60 * i, window.get(),
                               [native, point = from + (to - from) * i / 10] { QTest::mouseMove(native, point); });
        QTimer::singleShot(60 * 13, window.get(), [native, to] { QTest::mouseMove(native, to + QPoint(1, 0)); });
        QTimer::singleShot(60 * 16, window.get(),
                           [native, to] { QTest::mouseRelease(native, Qt::LeftButton, {}, to + QPoint(1, 0)); });
        ASSERT_TRUE(test::wait_until([&] { return !session().job().marks.empty() && !session().in_gesture(); }, 10'000))
            << "the mark is on the part";
    }
    [[nodiscard]] panels::FindingCard* card_of(const char* rule) const {
        const auto evaluation = session().evaluation();
        for (auto* card : window->findChildren<panels::FindingCard*>()) {
            if (!card->isVisible()) continue;
            for (const auto& finding : evaluation->findings)
                if (finding.rule == rule && card->accessibleName().contains(QString::fromStdString(finding.message)))
                    return card;
        }
        return nullptr;
    }
    [[nodiscard]] bool found(const char* rule) const {
        return std::ranges::find(session().evaluation()->findings, rule, &rules::Finding::rule) !=
               session().evaluation()->findings.end();
    }
};

TEST_F(MainJob, FromARealPartToAMarkedStepAndBack) {
    open(test::open_part("as1-oc-214.stp"));
    const QPoint wall = over_side_wall();
    ASSERT_FALSE(wall.isNull());
    const auto under = window->stage().viewport().pick(wall);
    drag_new_mark_to(wall);
    ASSERT_EQ(session().job().marks.size(), 1U);
    EXPECT_EQ(session().job().marks.front().anchor.face, under->face) << "where it was dropped";
    EXPECT_EQ(session().history().count(), 1) << "the whole drag is one step";
    settle();

    auto* height = named<panels::QuantityField>(QString::fromUtf8(job::parameter("cap_height")->title.data()));
    ASSERT_NE(height, nullptr) << "the new mark's values are unfolded";
    height->setFocus();
    height->selectAll();
    QTest::keyClicks(height, "1.8");
    QTest::keyClick(height, Qt::Key_Return);
    settle();
    ASSERT_TRUE(found("stroke_width")) << "1.8 mm capitals on a 0.4 mm nozzle";

    panels::FindingCard* card = card_of("stroke_width");
    ASSERT_NE(card, nullptr);
    QTest::mouseClick(card, Qt::LeftButton, {}, QPoint(24, 24));
    ASSERT_TRUE(session().selected_finding()) << "a click flies to the spot";
    const job::Job small = session().job();
    ASSERT_FALSE(card->fixes().empty());
    card->fixes().front()->setFocus();
    QTest::keyClick(card->fixes().front(), Qt::Key_Space);
    settle();
    EXPECT_FALSE(found("stroke_width")) << "the fix resolves it";
    const job::Job fixed = session().job();

    QTest::keyClick(window.get(), Qt::Key_Z, Qt::ControlModifier);
    EXPECT_EQ(session().job(), small);
    settle();
    EXPECT_TRUE(found("stroke_width"));
    QTest::keyClick(window.get(), Qt::Key_Z, Qt::ControlModifier | Qt::ShiftModifier);
    EXPECT_EQ(session().job(), fixed);

    QSignalSpy saved(&session(), &session::Session::saved);
    window->files().save_step_to(QString::fromStdString(file("marked.step").string()));
    ASSERT_TRUE(test::wait_until([&] { return !saved.isEmpty() || !window->banner().message().isEmpty(); }));
    ASSERT_EQ(saved.size(), 1) << window->banner().message().toStdString();
    const part::PartPtr back = test::read_part(file("marked.step"));
    EXPECT_LT(back->volume_mm3(), session().part()->volume_mm3()) << "material was taken away";
    ASSERT_TRUE(session().save_job(file("a.job.json")));
    EXPECT_FALSE(window->isWindowModified());

    window->files().close();
    EXPECT_EQ(session().part(), nullptr);
    open(file("a.job.json"));
    EXPECT_EQ(session().job(), fixed);
}

TEST_F(MainJob, ARaisedMarkAddsMaterial) {
    open(test::demo_part());
    QTest::keyClick(window.get(), Qt::Key_M, Qt::ControlModifier);
    ASSERT_TRUE(test::wait_until([&] { return named<QComboBox>("Mode") != nullptr; }));
    auto* mode = named<QComboBox>("Mode");
    mode->setFocus();
    QTest::keyClicks(mode, "R"); // as a person chooses in a list: by its first letter
    EXPECT_EQ(session().job().marks.front().mode, Mode::raise);
    ASSERT_TRUE(test::wait_until([&] { return session().solid() || session().solid_trouble(); }));
    ASSERT_FALSE(session().solid_trouble()) << session().solid_trouble()->message;
    EXPECT_GT(session().solid()->volume_change_mm3, 0);
}

} // namespace
} // namespace touchmark

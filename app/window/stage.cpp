// SPDX-License-Identifier: MIT
#include "app/window/stage.h"

#include "app/panels/look.h"
#include "app/panels/placing.h"
#include "app/tools/toolbox.h"
#include "app/viewport/legend.h"
#include "app/viewport/viewport.h"
#include "app/window/printed_key.h"

#include <QResizeEvent>

namespace touchmark::window {

struct Stage::Impl {
    Impl(session::Session& of, Stage* stage)
        : session(of), viewport(new viewport::Viewport(stage)), toolbox(new tools::Toolbox(of, *viewport, stage)),
          legend(new viewport::Legend(stage)), printed_key(new PrintedKey(stage)) {}

    session::Session& session;
    viewport::Viewport* viewport;
    tools::Toolbox* toolbox;
    viewport::Legend* legend;
    PrintedKey* printed_key;
    bool shaded = true, printed = false;
};

Stage::Stage(session::Session& session, QWidget* parent)
    : QWidget(parent), impl_(std::make_unique<Impl>(session, this)) {
    setAcceptDrops(false); // the viewport takes marks, the window takes files
    impl_->viewport->setAccessibleName(tr("The part"));
    impl_->viewport->setAccessibleDescription(
        tr("Arrow keys move the selected mark, Shift ten times as far; type to change its text"));
    setFocusProxy(impl_->viewport);
    impl_->legend->setFont(panels::small_font(*impl_->legend));
    connect(impl_->toolbox, &tools::Toolbox::laying_face_changed, this, &Stage::laying_face_changed);
    connect(impl_->toolbox, &tools::Toolbox::measuring_changed, this, &Stage::measuring_changed);
    connect(impl_->toolbox, &tools::Toolbox::text_typed, this, &Stage::text_typed);
    connect(&session, &session::Session::changed, this, [this](session::Changes changes) {
        using session::Change;
        if (changes & (Change::part | Change::job | Change::selection)) refresh_legend();
    });
    refresh_legend();
}

Stage::~Stage() {
    delete impl_->toolbox; // before the viewport that it acts in
}

void Stage::resizeEvent(QResizeEvent* event) {
    QWidget::resizeEvent(event);
    impl_->viewport->setGeometry(rect());
    refresh_legend();
}

void Stage::refresh_legend() {
    const bool open = impl_->session.part() != nullptr;
    const bool shaded = open && impl_->shaded && !impl_->printed;
    impl_->legend->set_process(impl_->session.process(),
                               shaded ? std::optional(impl_->toolbox->shaded_mode()) : std::nullopt,
                               open && !impl_->session.job().kept_clear.empty());
    impl_->legend->move(2 * panels::grid, height() - impl_->legend->height() - 2 * panels::grid);
    impl_->legend->raise();
    // The one over the other: the top is the tools' hints'.
    const int foot = impl_->legend->isVisible() ? impl_->legend->y() - panels::grid : height() - 2 * panels::grid;
    impl_->printed_key->move(2 * panels::grid, foot - impl_->printed_key->height());
    impl_->printed_key->raise();
}

viewport::Viewport& Stage::viewport() {
    return *impl_->viewport;
}

void Stage::set_dark(bool dark) {
    impl_->viewport->set_dark(dark);
    refresh_legend();
}

void Stage::fit() {
    impl_->viewport->fit();
}

void Stage::zoom_to_selected_mark() {
    impl_->toolbox->zoom_to_selected_mark();
}

void Stage::look(Vec3 from_direction, Vec3 up) {
    impl_->viewport->look(from_direction, up);
}

void Stage::set_laying_face(bool laying) {
    impl_->toolbox->set_laying_face(laying);
    if (laying) impl_->viewport->setFocus(Qt::OtherFocusReason);
}

void Stage::set_keeping_clear(bool keeping) {
    impl_->toolbox->set_keeping_clear(keeping);
    if (keeping) impl_->viewport->setFocus(Qt::OtherFocusReason);
}

void Stage::place_mark() {
    impl_->toolbox->place_mark(QString::fromLatin1(panels::first_words));
    impl_->viewport->setFocus(Qt::OtherFocusReason);
}

void Stage::set_measuring(bool measuring) {
    impl_->toolbox->set_measuring(measuring);
    if (measuring) impl_->viewport->setFocus(Qt::OtherFocusReason);
}

void Stage::set_printed(bool printed) {
    impl_->toolbox->set_printed(printed);
    impl_->printed_key->setVisible(printed);
    impl_->printed = printed;
    refresh_legend();
}

void Stage::set_shaded(bool shaded) {
    impl_->shaded = shaded;
    impl_->toolbox->set_shaded(shaded);
    refresh_legend();
}

} // namespace touchmark::window

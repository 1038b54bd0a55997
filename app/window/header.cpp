// SPDX-License-Identifier: MIT
#include "app/window/header.h"

#include "app/panels/look.h"
#include "app/session/counted.h"
#include "core/base/number_text.h"

#include <QHBoxLayout>
#include <QMenu>
#include <QPainter>
#include <QPushButton>
#include <cmath>

namespace touchmark::window {
using panels::grid;

namespace {
const QString opens = QStringLiteral("  ▾"); ///< a menu
}

QString saved_state(session::Session& session) {
    if (!session.part()) return {};
    if (!session.modified()) return session.job_file().empty() ? QString() : Header::tr("All saved");
    const QUndoStack& history = session.history();
    if (session.job_file().empty()) return Header::tr("Job not saved yet");
    if (history.cleanIndex() < 0) return Header::tr("Changes not saved");
    return Header::tr("%1 not saved")
        .arg(session::counted(std::abs(history.index() - history.cleanIndex()), Header::tr("edit"),
                              Header::tr("edits")));
}

QString pose_words(const plate::Pose& pose) {
    const bool as_filed = distance(pose.down, Vec3{0, 0, -1}) < 1e-9;
    const double turn = std::remainder(pose.turn.value, 360.0);
    if (as_filed && std::abs(turn) < 1e-9) return Header::tr("Stands as in the file");
    if (as_filed) return Header::tr("Turned %1").arg(panels::text(text_of(Degrees(turn))));
    return Header::tr("Laid on another side");
}

Header::Header(session::Session& session, const Actions& actions, QWidget* parent)
    : QFrame(parent), session_(session), part_(new QLabel(this)), state_(new QLabel(this)),
      process_(new QPushButton(this)), pose_(new QPushButton(this)), find_(new QPushButton(this)),
      save_(new QPushButton(tr("Save marked STEP"), this)) {
    part_->setFont(panels::strong_font(*part_));
    part_->setTextFormat(Qt::PlainText);
    panels::make_quiet(*state_);
    process_->setProperty("look", "chip");
    process_->setMenu(&actions.menu("Part/Process"));
    process_->setToolTip(tr("What it will be printed with; every limit in the findings follows from it"));
    pose_->setProperty("look", "chip");
    auto* pose_menu = new QMenu(pose_);
    for (const char* id : {"lay_face", "turn_left", "turn_right", "pose_of_file"})
        pose_menu->addAction(&actions[id]);
    pose_->setMenu(pose_menu);
    pose_->setToolTip(tr("How the part stands on the plate; it decides which faces are side walls"));
    find_->setText(tr("Find an action   Ctrl+K"));
    find_->setAccessibleName(tr("Find an action"));
    find_->setProperty("look", "chip");
    connect(find_, &QPushButton::clicked, &actions["find"], &QAction::trigger);
    save_->setProperty("look", "primary");
    save_->setToolTip(actions["save_step"].toolTip());
    connect(save_, &QPushButton::clicked, &actions["save_step"], &QAction::trigger);

    auto* layout = new QHBoxLayout(this);
    layout->setContentsMargins(2 * grid, grid, 2 * grid, grid);
    layout->setSpacing(panels::card_inset);
    layout->addWidget(part_);
    layout->addWidget(process_);
    layout->addWidget(pose_);
    layout->addWidget(state_);
    layout->addStretch();
    layout->addWidget(find_);
    layout->addWidget(save_);
    connect(&session_, &session::Session::changed, this, [this](session::Changes changes) {
        using session::Change;
        if (changes & (Change::part | Change::job | Change::document | Change::activity)) refresh();
    });
    connect(&session_.history(), &QUndoStack::indexChanged, this, &Header::refresh);
    refresh();
}

void Header::refresh() {
    const auto part = session_.part();
    const bool open = part != nullptr;
    for (QWidget* widget : std::initializer_list<QWidget*>{part_, process_, pose_, state_, save_})
        widget->setVisible(open);
    if (!open) return;
    part_->setText(panels::text(session_.job().part.file.filename().string()));
    part_->setToolTip(panels::text(session_.job().part.file.string()));
    const QString process = panels::text(session_.process().title), pose = pose_words(session_.job().pose);
    process_->setText(process + opens);
    process_->setAccessibleName(tr("Process: %1").arg(process));
    pose_->setText(pose + opens);
    pose_->setAccessibleName(tr("Pose: %1").arg(pose));
    state_->setText(saved_state(session_));
    save_->setEnabled(!session_.job().marks.empty());
}

void Header::paintEvent(QPaintEvent*) {
    QPainter painter(this);
    painter.fillRect(QRect(0, height() - 1, width(), 1), palette().color(QPalette::Mid));
}

} // namespace touchmark::window

// SPDX-License-Identifier: MIT
#include "app/panels/plate_strip.h"

#include "app/panels/look.h"
#include "app/panels/plate_view.h"
#include "app/panels/quantity_field.h"

#include <QHBoxLayout>
#include <QPushButton>
#include <cmath>

namespace touchmark::panels {

PlateStrip::PlateStrip(session::Session& session, QWidget* parent) : QWidget(parent), session_(session) {
    setAccessibleName(tr("Plate"));
    controls_ = build_controls();
    auto* layout = new QHBoxLayout(this);
    layout->setContentsMargins(2 * grid, grid, 2 * grid, grid);
    layout->setSpacing(3 * grid);
    layout->addWidget(controls_);
    layout->addWidget(new PlateView(session_, this), 1);
    setFixedHeight(128);
    connect(&session_, &session::Session::changed, this, &PlateStrip::on_changed);
    on_changed(session::Change::part);
}

QWidget* PlateStrip::build_controls() {
    auto* holder = new QWidget(this);
    auto* title = new QLabel(tr("On the plate"), holder);
    title->setFont(strong_font(*title));

    pick_ = new QPushButton(tr("Lay a face down"), holder);
    pick_->setCheckable(true);
    pick_->setToolTip(tr("Then click the face that is to lie on the plate; Esc leaves it as it is"));
    connect(pick_, &QPushButton::clicked, this, &PlateStrip::pick_face_asked);
    auto* left = new QPushButton(tr("Turn left"), holder);
    left->setToolTip(tr("A quarter turn about the vertical"));
    connect(left, &QPushButton::clicked, this, [this] { turn_by(90); });
    auto* right = new QPushButton(tr("Turn right"), holder);
    right->setToolTip(tr("A quarter turn about the vertical, the other way"));
    connect(right, &QPushButton::clicked, this, [this] { turn_by(-90); });
    auto* buttons = new QHBoxLayout;
    buttons->setSpacing(grid);
    buttons->addWidget(pick_);
    buttons->addWidget(left);
    buttons->addWidget(right);
    buttons->addStretch();

    auto* fields = new QHBoxLayout;
    fields->setSpacing(grid / 2);
    const std::array names{tr("X"), tr("Y"), tr("Z")};
    for (std::size_t axis = 0; axis < 3; ++axis) {
        auto* label = new QLabel(names[axis], holder);
        make_quiet(*label);
        angles_[axis] = new QuantityField({Measure::angle, QStringLiteral("°"), -360, 360, 5}, holder);
        angles_[axis]->setFixedWidth(72);
        angles_[axis]->setAccessibleName(tr("Turn about the plate's %1 axis").arg(names[axis]));
        angles_[axis]->setToolTip(tr("Turned about the plate's %1 axis from how the file has it; what stands up and "
                                     "what overhangs follows from it")
                                      .arg(names[axis]));
        connect(angles_[axis], &QuantityField::changed_to, this,
                [this, axis](double degrees) { set_angle(axis, degrees); });
        if (axis > 0) fields->addSpacing(grid);
        fields->addWidget(label);
        fields->addWidget(angles_[axis]);
    }
    fields->addStretch();

    auto* layout = new QVBoxLayout(holder);
    layout->setContentsMargins(0, grid / 2, 0, 0);
    layout->setSpacing(grid);
    layout->addWidget(title);
    layout->addLayout(buttons);
    layout->addLayout(fields);
    layout->addStretch();
    return holder;
}

void PlateStrip::on_changed(session::Changes changes) {
    using session::Change;
    if (!(changes & (Change::part | Change::job))) return;
    controls_->setEnabled(session_.part() != nullptr);
    const auto angles = plate::angles_of(session_.job().pose);
    for (std::size_t axis = 0; axis < 3; ++axis) {
        const double shown = std::round(angles[axis].value * 1e6) / 1e6;
        angles_[axis]->set_value(shown == 0 ? 0 : shown);
    }
}

void PlateStrip::set_picking(bool picking) {
    pick_->setChecked(picking);
}

void PlateStrip::turn_by(double degrees) {
    (void)session_.edit(tr("Turn the part"), [degrees](const job::Job& job) {
        plate::Pose pose = job.pose;
        pose.turn = Degrees(std::remainder(pose.turn.value + degrees, 360.0));
        return job::set_pose(job, pose);
    });
}

void PlateStrip::set_angle(std::size_t axis, double degrees) {
    (void)session_.edit_merged(tr("Turn the part"), QStringLiteral("pose/%1").arg(axis),
                               [axis, degrees](const job::Job& job) {
                                   auto angles = plate::angles_of(job.pose);
                                   angles[axis] = Degrees(degrees);
                                   return job::set_pose(job, plate::pose_from_angles(angles[0], angles[1], angles[2]));
                               });
}

} // namespace touchmark::panels

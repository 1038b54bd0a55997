// SPDX-License-Identifier: MIT
#include "app/panels/marks_rail.h"

#include "app/panels/face_survey.h"
#include "app/panels/look.h"
#include "app/panels/mark_card.h"
#include "app/panels/mark_values.h"
#include "app/panels/placing.h"
#include "app/panels/variables_card.h"

#include <QApplication>
#include <QDrag>
#include <QMimeData>
#include <QMouseEvent>
#include <QPainter>
#include <QPointer>
#include <QThreadPool>
#include <QVBoxLayout>

namespace touchmark::panels {

NewMark::NewMark(QWidget* parent) : QPushButton(tr("New mark"), parent) {
    setAccessibleDescription(tr("Drag it onto the part, or press Enter to place it on the best side wall"));
    setToolTip(tr("Drag onto the part to choose the place; press to have the best side wall chosen"));
    setCursor(Qt::OpenHandCursor);
    setAttribute(Qt::WA_Hover);
    setSizePolicy(QSizePolicy::Expanding, QSizePolicy::Fixed);
}

QSize NewMark::sizeHint() const {
    return {200, fontMetrics().height() * 2 + 2 * card_inset + 2};
}

void NewMark::paintEvent(QPaintEvent*) {
    QPainter painter(this);
    painter.setRenderHint(QPainter::Antialiasing);
    const QPalette& colours = palette();
    const bool lively = hasFocus() || underMouse() || isDown();
    painter.setBrush(colours.color(lively ? QPalette::AlternateBase : QPalette::Base));
    painter.setPen(QPen(colours.color(lively ? QPalette::Highlight : QPalette::PlaceholderText), hasFocus() ? 2 : 1.2,
                        Qt::DashLine));
    painter.drawRoundedRect(QRectF(rect()).adjusted(1, 1, -1, -1), 6, 6);

    // A strip of letters standing in a surface: what is dragged.
    const QRectF chip(card_inset, (height() - 32) / 2.0, 48, 32);
    painter.setPen(Qt::NoPen);
    painter.setBrush(colours.color(isEnabled() ? QPalette::Highlight : QPalette::Mid));
    painter.drawRoundedRect(chip, 4, 4);
    painter.setPen(colours.color(QPalette::HighlightedText));
    QFont letters = font();
    letters.setBold(true);
    painter.setFont(letters);
    painter.drawText(chip, Qt::AlignCenter, QStringLiteral("Tt"));

    const QRect words = rect().adjusted(card_inset * 2 + 48, card_inset, -card_inset, -card_inset);
    painter.setPen(colours.color(isEnabled() ? QPalette::Text : QPalette::PlaceholderText));
    painter.setFont(strong_font(*this));
    painter.drawText(words, Qt::AlignLeft | Qt::AlignTop, text());
    painter.setFont(small_font(*this));
    painter.setPen(colours.color(QPalette::PlaceholderText));
    painter.drawText(
        words, Qt::AlignLeft | Qt::AlignBottom,
        painter.fontMetrics().elidedText(tr("Drag onto the part, or press"), Qt::ElideRight, words.width()));
}

void NewMark::mousePressEvent(QMouseEvent* event) {
    pressed_at_ = event->pos();
    QPushButton::mousePressEvent(event);
}

void NewMark::mouseMoveEvent(QMouseEvent* event) {
    if (!(event->buttons() & Qt::LeftButton) || !isEnabled()) return;
    if ((event->pos() - pressed_at_).manhattanLength() < QApplication::startDragDistance()) return;
    setDown(false);
    auto* drag = new QDrag(this);
    auto* carried = new QMimeData;
    carried->setData(QLatin1String(mime_type), QByteArray(first_words));
    drag->setMimeData(carried);
    QPixmap nothing(1, 1); // the footprint on the part is the picture of the drag
    nothing.fill(Qt::transparent);
    drag->setPixmap(nothing);
    drag->exec(Qt::CopyAction);
}

MarksRail::MarksRail(session::Session& session, QWidget* parent)
    : QWidget(parent), session_(session), survey_(new FaceSurvey(session.fonts(), content::face_measures_file(), this)),
      column_(new CardColumn(this)), nothing_yet_(new QWidget(this)), new_mark_(new NewMark(this)),
      variables_(new VariablesCard(session, column_->widget())), to_variables_(new QPushButton(this)) {
    setAccessibleName(tr("Marks"));
    auto* title = new QLabel(tr("Marks"), this);
    title->setFont(strong_font(*title));

    auto* said = wrapping_label(nothing_yet_);
    said->setText(tr("Nothing on the part yet.\nDrag “New mark” from below onto the face that should carry it."));
    make_quiet(*said);
    auto* nothing_layout = new QVBoxLayout(nothing_yet_);
    nothing_layout->setContentsMargins(0, 0, 0, 0);
    nothing_layout->addWidget(said);

    column_->cards().insertWidget(0, nothing_yet_);
    column_->cards().insertWidget(1, variables_);
    connect(variables_, &VariablesCard::failed, this, &MarksRail::failed);
    to_variables_->setProperty("look", "row");
    to_variables_->setCursor(Qt::PointingHandCursor);
    to_variables_->setToolTip(tr("Part number, date, serial number, table: what {name} in a text stands for"));
    connect(to_variables_, &QPushButton::clicked, this, [this] { column_->bring_into_view(variables_); });
    connect(variables_, &VariablesCard::grown, this, [this] { column_->bring_into_view(variables_); });
    connect(variables_, &VariablesCard::wanted, this, [this](const QString& placeholder) {
        if (MarkCard* chosen = card(session_.selected_mark()); chosen && chosen->values())
            chosen->values()->insert_text(placeholder);
    });

    auto* layout = new QVBoxLayout(this);
    layout->setContentsMargins(2 * grid, card_inset, 2 * grid, 2 * grid);
    layout->setSpacing(grid);
    layout->addWidget(title);
    layout->addWidget(column_, 1);
    layout->addWidget(to_variables_);
    layout->addWidget(new_mark_);

    connect(new_mark_, &QPushButton::clicked, this, &MarksRail::place_new_mark);
    connect(&session_, &session::Session::changed, this, &MarksRail::on_changed);
    on_changed(session::Change::part);
}

MarksRail::~MarksRail() = default;

MarkCard* MarksRail::card(const QString& mark) const {
    const auto found = std::ranges::find_if(cards_, [&](const MarkCard* one) { return one->mark() == mark; });
    return found == cards_.end() ? nullptr : *found;
}

void MarksRail::on_changed(session::Changes changes) {
    using session::Change;
    if (changes & Change::part) new_mark_->setEnabled(session_.part() != nullptr);
    if (changes & (Change::part | Change::job)) rebuild();
    if (changes & (Change::part | Change::job | Change::evaluation))
        for (MarkCard* one : cards_)
            one->refresh();
    if (changes & (Change::part | Change::job)) variables_->refresh();
    if (changes & Change::part) variables_->setVisible(session_.part() != nullptr);
    if (changes & (Change::part | Change::job)) {
        const auto count = static_cast<int>(session_.job().variables.list.size());
        to_variables_->setText(count == 0 ? tr("Variables …") : tr("Variables (%1)").arg(count));
        to_variables_->setVisible(session_.part() != nullptr);
    }
    if (changes & (Change::part | Change::job | Change::selection)) show_selection();
}

void MarksRail::rebuild() {
    const job::Job& job = session_.job();
    std::erase_if(cards_, [&](MarkCard* one) {
        if (job.find(one->mark().toStdString())) return false;
        one->hide();
        one->deleteLater();
        return true;
    });
    for (const job::Mark& mark : job.marks)
        if (!card(text(mark.id))) add(mark);
    for (std::size_t i = 0; i < job.marks.size(); ++i) { // in the job's order
        MarkCard* one = card(text(job.marks[i].id));
        if (column_->cards().indexOf(one) != static_cast<int>(i) + 1)
            column_->cards().insertWidget(static_cast<int>(i) + 1, one);
    }
    nothing_yet_->setVisible(job.marks.empty() && session_.part());
}

void MarksRail::add(const job::Mark& mark) {
    auto* one = new MarkCard(session_, *survey_, text(mark.id), column_->widget());
    cards_.push_back(one);
    connect(one, &Card::step, this, [this, one](int by) {
        const int next = column_->cards().indexOf(one) + by;
        if (QLayoutItem* item = column_->cards().itemAt(next); item && item->widget() && next > 0)
            item->widget()->setFocus(Qt::OtherFocusReason);
    });
}

void MarksRail::show_selection() {
    for (MarkCard* one : cards_)
        one->set_unfolded(one->mark() == session_.selected_mark());
    if (MarkCard* chosen = card(session_.selected_mark())) column_->bring_into_view(chosen);
}

void MarksRail::place_new_mark() {
    if (!session_.part()) return;
    new_mark_->setEnabled(false);
    const QPointer<MarksRail> self(this);
    QThreadPool::globalInstance()->start([self, part = session_.part(), meshes = session_.meshes(),
                                          pose = session_.job().pose, process = session_.process(),
                                          kept_clear = session_.job().kept_clear] {
        const Result<job::Mark> placed = place_by_itself(*part, meshes, pose, process, kept_clear);
        QMetaObject::invokeMethod(
            qApp,
            [self, part, placed] {
                if (!self) return;
                self->new_mark_->setEnabled(true);
                if (self->session_.part() != part) return;
                if (!placed) return self->failed(placed.error());
                (void)self->session_.edit(tr("New mark"),
                                          [mark = *placed](const job::Job& job) { return job::add_mark(job, mark); });
                self->edit_selected_text();
            },
            Qt::QueuedConnection);
    });
}

void MarksRail::edit_selected_text() {
    type_text({});
}

void MarksRail::type_text(const QString& typed) {
    if (MarkCard* chosen = card(session_.selected_mark()); chosen && chosen->values())
        chosen->values()->type_text(typed);
}

} // namespace touchmark::panels

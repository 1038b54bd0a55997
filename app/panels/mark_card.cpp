// SPDX-License-Identifier: MIT
#include "app/panels/mark_card.h"

#include "app/panels/mark_values.h"
#include "app/panels/outline_thumbnail.h"
#include "app/panels/severity_mark.h"
#include "core/base/number_text.h"

#include <QKeyEvent>
#include <QPushButton>
#include <QVBoxLayout>

namespace touchmark::panels {
namespace {

QString said_by(const job::Mark& mark, const content::Variables& variables) {
    const auto first = content::expanded(mark.content, variables, {});
    const QString said = text(content::said_by(first ? *first : mark.content)).simplified();
    return said.isEmpty() ? MarkCard::tr("Says nothing yet") : said;
}

} // namespace

MarkCard::MarkCard(session::Session& session, FaceSurvey& survey, QString mark, QWidget* parent)
    : Card(parent), session_(session), survey_(survey), mark_(std::move(mark)), thumbnail_(new OutlineThumbnail(this)),
      content_(new ElidedLabel(this)), how_(new ElidedLabel(this)), where_(new ElidedLabel(this)),
      worst_(new SeverityMark(this)) {
    build_head();
    connect(this, &Card::activated, this, [this] { session_.select_mark(mark_); });
    refresh();
}

void MarkCard::build_head() {
    content_->setFont(strong_font(*content_));
    make_quiet(*how_);
    make_quiet(*where_);
    worst_->setFont(small_font(*worst_));
    auto* words = new QVBoxLayout;
    words->setSpacing(2);
    words->addWidget(content_);
    words->addWidget(how_);
    words->addWidget(where_);
    words->addSpacing(2);
    words->addWidget(worst_);
    auto* head = new QHBoxLayout;
    head->setSpacing(card_inset);
    head->addWidget(thumbnail_, 0, Qt::AlignTop);
    head->addLayout(words, 1);
    auto* layout = new QVBoxLayout(this);
    layout->setContentsMargins(card_inset, card_inset, card_inset, card_inset);
    layout->setSpacing(card_inset);
    layout->addLayout(head);
}

void MarkCard::build_foot() {
    auto* duplicate_button = new QPushButton(tr("Duplicate"), body_);
    duplicate_button->setToolTip(tr("A second mark like this one beside it"));
    connect(duplicate_button, &QPushButton::clicked, this, [this] { duplicate(); });
    auto* delete_button = new QPushButton(tr("Delete"), body_);
    delete_button->setToolTip(tr("Takes this mark off the part; undo brings it back"));
    connect(delete_button, &QPushButton::clicked, this, [this] { remove(); });
    auto* row = new QHBoxLayout;
    row->setSpacing(grid);
    row->addWidget(duplicate_button);
    row->addWidget(delete_button);
    row->addStretch();
    static_cast<QVBoxLayout*>(body_->layout())->addLayout(row);
}

void MarkCard::set_unfolded(bool unfolded) {
    set_selected(unfolded);
    if (unfolded == (body_ != nullptr)) return;
    if (!unfolded) {
        body_->hide();
        body_->deleteLater();
        body_ = nullptr;
        values_ = nullptr;
        return;
    }
    body_ = new QWidget(this);
    auto* layout = new QVBoxLayout(body_);
    layout->setContentsMargins(0, 0, 0, 0);
    layout->setSpacing(card_inset);
    values_ = new MarkValues(session_, survey_, mark_, body_);
    layout->addWidget(values_);
    build_foot();
    static_cast<QVBoxLayout*>(this->layout())->addWidget(body_);
    body_->show();
}

void MarkCard::refresh() {
    const job::Mark* mark = session_.job().find(mark_.toStdString());
    if (!mark) return;
    content_->set_text(said_by(*mark, session_.job().variables));
    how_->set_text(tr("%1 %2").arg(text(title_of(mark->mode)), text(text_of(mark->depth))));
    refresh_outline(*mark);
    refresh_findings();
    if (values_) values_->refresh();
    setAccessibleName(
        tr("Mark %1: %2, %3, %4, %5")
            .arg(text(mark->name), content_->text(), how_->text(), where_->text(), worst_->accessibleName()));
}

void MarkCard::refresh_outline(const job::Mark& mark) {
    const auto evaluation = session_.evaluation();
    QString where = mark.anchor.face < 0 ? tr("Not on the part yet") : tr("Face %1").arg(mark.anchor.face);
    if (evaluation) {
        const auto found = std::ranges::find(evaluation->marks, mark.id, &pipeline::MarkEvaluation::mark);
        if (found != evaluation->marks.end()) {
            if (found->drawn != drawn_ || !found->drawn) {
                drawn_ = found->drawn;
                thumbnail_->set(found->drawn ? path_of(found->drawn->outline) : QPainterPath(),
                                mark.mode != Mode::raise);
            } else {
                thumbnail_->set_cut(mark.mode != Mode::raise);
            }
            if (found->map) where += tr(" · %1").arg(text(title_of(found->zone)).toLower());
        }
    }
    where_->set_text(where);
}

void MarkCard::refresh_findings() {
    const auto evaluation = session_.evaluation();
    if (!evaluation) return worst_->set(std::nullopt, tr("Being checked"));
    std::optional<rules::Severity> worst;
    int count = 0;
    for (const rules::Finding& finding : evaluation->findings) {
        if (finding.mark != mark_.toStdString()) continue;
        ++count;
        if (!worst || finding.severity < *worst) worst = finding.severity;
    }
    worst_->set(worst, count > 1 ? tr("%1, %2 more").arg(severity_word(worst)).arg(count - 1) : QString());
}

void MarkCard::keyPressEvent(QKeyEvent* event) {
    if (event->key() == Qt::Key_Delete) return remove();
    Card::keyPressEvent(event);
}

void MarkCard::remove() {
    (void)session_.edit(tr("Delete mark"),
                        [mark = mark_.toStdString()](const job::Job& job) { return job::remove_mark(job, mark); });
}

void MarkCard::duplicate() {
    (void)session_.edit(tr("Duplicate mark"),
                        [mark = mark_.toStdString()](const job::Job& job) { return job::duplicate_mark(job, mark); });
}

} // namespace touchmark::panels

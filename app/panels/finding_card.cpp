// SPDX-License-Identifier: MIT
#include "app/panels/finding_card.h"

#include "app/panels/gauge.h"
#include "app/panels/severity_mark.h"

#include <QEvent>
#include <QRegularExpression>
#include <QResizeEvent>
#include <QVBoxLayout>

namespace touchmark::panels {

FixButton::FixButton(QWidget* parent) : QPushButton(parent) {
    setProperty("look", "fix");
    setAutoDefault(false);
    setMinimumWidth(0);
    setSizePolicy(QSizePolicy::Ignored, QSizePolicy::Fixed);
}

void FixButton::set_title(const QString& title) {
    static const QRegularExpression before_unit(QStringLiteral("(?<=\\d) (?=mm\\b|°)"));
    title_ = QString(title).replace(before_unit, QStringLiteral("\u00a0"));
    setAccessibleName(tr("Fix: %1").arg(title));
    wrap();
}

void FixButton::resizeEvent(QResizeEvent* event) {
    QPushButton::resizeEvent(event);
    if (event->oldSize().width() != event->size().width()) wrap();
}

void FixButton::wrap() {
    const int room = width() - 2 * card_inset - 2;
    QString lines, line;
    for (const QString& word : title_.split(u' ')) {
        const QString longer = line.isEmpty() ? word : line + u' ' + word;
        if (line.isEmpty() || fontMetrics().horizontalAdvance(longer) <= room) {
            line = longer;
        } else {
            lines += line + u'\n';
            line = word;
        }
    }
    lines += line;
    lines.replace(u'&', QStringLiteral("&&")); // no mnemonics in what is said
    if (lines == text()) return;
    setText(lines);
    updateGeometry();
}

FindingCard::FindingCard(session::Session& session, QWidget* parent)
    : Card(parent), session_(session), severity_(new SeverityMark(this)), message_(wrapping_label(this)),
      why_(wrapping_label(this)), gauge_(new Gauge(this)), fix_layout_(new QVBoxLayout) {
    severity_->setFont(small_font(*severity_));
    make_quiet(*why_);
    fix_layout_->setSpacing(grid / 2);
    auto* layout = new QVBoxLayout(this);
    layout->setContentsMargins(card_inset, card_inset, card_inset, card_inset);
    layout->setSpacing(grid);
    layout->addWidget(severity_);
    layout->addWidget(message_);
    layout->addWidget(gauge_);
    layout->addWidget(why_);
    layout->addLayout(fix_layout_);
    why_->hide();
    connect(this, &Card::activated, this, [this] { session_.select_finding(index_); });
}

void FindingCard::show_finding(std::size_t index, const rules::Finding& finding) {
    index_ = index;
    severity_->set(finding.severity);
    message_->setText(text(finding.message));
    why_->setText(text(finding.why) +
                  (finding.source.empty() ? QString() : tr("\nLimit: %1.").arg(text(finding.source))));
    gauge_->setVisible(Gauge::suits(finding));
    if (Gauge::suits(finding)) gauge_->set(finding);
    show_fixes(finding);
    setAccessibleName(tr("%1: %2").arg(severity_word(finding.severity), text(finding.message)));
    setAccessibleDescription(text(finding.why));
}

void FindingCard::show_fixes(const rules::Finding& finding) {
    edits_ = finding.fixes;
    for (std::size_t i = 0; i < edits_.size(); ++i) {
        FixButton* fix = button(i);
        fix->set_title(text(edits_[i].title));
        fix->show();
    }
    for (std::size_t i = edits_.size(); i < buttons_.size(); ++i)
        buttons_[i]->hide();
}

FixButton* FindingCard::button(std::size_t at) {
    while (buttons_.size() <= at) {
        const std::size_t mine = buttons_.size();
        auto* made = new FixButton(this);
        made->setToolTip(tr("Makes this change; undo takes it back"));
        made->installEventFilter(this);
        connect(made, &QPushButton::clicked, this, [this, mine] {
            if (mine >= edits_.size()) return;
            const rules::Fix fix = edits_[mine]; // the edit replaces the list
            session_.hide_ghost();
            (void)session_.edit(text(fix.title), fix.edit);
        });
        fix_layout_->addWidget(made);
        buttons_.push_back(made);
    }
    return buttons_[at];
}

void FindingCard::set_unfolded(bool unfolded) {
    set_selected(unfolded);
    why_->setVisible(unfolded && !why_->text().isEmpty());
}

bool FindingCard::eventFilter(QObject* watched, QEvent* event) {
    const auto found = std::ranges::find(buttons_, watched);
    if (found != buttons_.end()) {
        const auto at = static_cast<std::size_t>(found - buttons_.begin());
        switch (event->type()) {
        case QEvent::Enter:
        case QEvent::FocusIn:
            if (at < edits_.size()) session_.show_ghost(edits_[at].edit);
            break;
        case QEvent::Leave:
        case QEvent::FocusOut:
        case QEvent::Hide:
            session_.hide_ghost();
            break;
        default:
            break;
        }
    }
    return Card::eventFilter(watched, event);
}

} // namespace touchmark::panels

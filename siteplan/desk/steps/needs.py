"""Needs: what must run, for how long, and who is in the house."""

from PySide6.QtWidgets import QLineEdit

from siteplan.desk import making, things
from siteplan.desk.forms.editors import Choice
from siteplan.desk.forms.form import PartForm
from siteplan.desk.forms.quantities import read, show
from siteplan.desk.steps.base import StepPanel, ThingList, entry, labelled, side_by_side
from siteplan.desk.steps.power_views import LegBars, load_detail, sum_words
from siteplan.desk.text import tr, why
from siteplan.errors import SiteplanError
from siteplan.power.appliances import appliances
from siteplan.rules import power_report


class NeedsPanel(StepPanel):
    """List what must run."""

    def build(self) -> None:
        """Make the panel's contents."""
        self.appliance = "other"
        self.words(tr("What must run during the outage. Watts stand on each nameplate."))
        self.book = Choice(
            [(one.id, tr(one.name)) for one in appliances().values()], self._take_appliance
        )
        self.book.setPlaceholderText(tr("Choose, or type below"))
        self.column.addLayout(labelled(tr("From the book of appliances"), self.book))
        self.name, self.running, self.starting = QLineEdit(), QLineEdit(), QLineEdit()
        self.name.setPlaceholderText(tr("Refrigerator"))
        self.running.setPlaceholderText("150 W")
        self.starting.setPlaceholderText(tr("Not known"))
        self.column.addLayout(labelled(tr("Appliance"), self.name))
        self.column.addLayout(
            side_by_side(
                labelled(tr("Running"), self.running), labelled(tr("Starting"), self.starting)
            )
        )
        self.starting.returnPressed.connect(self.add_typed)
        self.running.returnPressed.connect(self.add_typed)
        self.button(tr("Add appliance"), self.add_typed, main=True)
        self.list = ThingList(self.session, tr("Appliances"))
        self.column.addWidget(self.list)
        self.legs = LegBars()
        self.column.addWidget(self.legs)
        self.sums = self.words("")
        self.heading(tr("The outage"))
        self.outage = PartForm(
            self.session, things.OUTAGE, ("hours", "start", "temperature_c", "altitude_m")
        )
        self.column.addWidget(self.outage)
        self.button(tr("Quiet hours and limits"), lambda: self.session.select(things.OUTAGE))
        self.heading(tr("Carbon monoxide alarms"))
        self.buttons(
            [
                (tr("Add a storey"), lambda: self._add_alarm("storey")),
                (tr("Add a sleeping area"), lambda: self._add_alarm("sleeping-area")),
            ],
            1,
        )
        self.alarms = ThingList(self.session, tr("Carbon monoxide alarms"))
        self.column.addWidget(self.alarms)
        self.household = PartForm(self.session, things.HOUSEHOLD)
        self.column.addWidget(self.household)

    def refresh(self) -> None:
        """Show the plan as it is now."""
        plan = self.session.plan
        self._show_loads()
        words = {True: tr("alarm works"), False: tr("no alarm"), None: tr("alarm not known")}
        self.alarms.show_things(
            [entry(plan, one.id, words[one.alarm]) for one in plan.household.alarm_spots]
        )
        self.outage.refresh()
        self.household.refresh()

    def _show_loads(self) -> None:
        """Show the loads; with their legs, order and sums once the plan is resolved."""
        plan, system, scene = self.session.plan, self.session.manner.system, self.session.scene
        self.sums.setVisible(scene is not None and bool(plan.loads))
        if scene is None or scene.plan is not plan:
            self.list.show_things(
                [entry(plan, one.id, show(one.running_w, "power", system)) for one in plan.loads]
            )
            return
        report = power_report(scene)
        self.list.show_things([entry(plan, row.load.id, load_detail(row)) for row in report.loads])
        self.legs.show_report(report)
        self.sums.setText(sum_words(report))

    def _add_alarm(self, place: str) -> None:
        self.add(tr("Add alarm"), lambda plan: making.add_alarm(plan, place))

    def _take_appliance(self, name: object) -> None:
        one, system = appliances()[str(name)], self.session.manner.system
        self.appliance = one.id
        self.name.setText(tr(one.name))
        self.running.setText(show(one.run_w, "power", system))
        self.starting.setText(show(one.start_w, "power", system))

    def add_typed(self) -> None:
        """Add the appliance of the typed figures."""
        system = self.session.manner.system
        try:
            running = read(self.running.text(), "power", system)
            starting = read(self.starting.text(), "power", system) if self.starting.text() else None
        except SiteplanError as error:
            self.session.refused.emit(why(error))
            return
        name, kind = self.name.text().strip(), self.appliance
        volts = appliances()[kind].volts if kind in appliances() else 120.0
        made = self.add(
            tr("Add appliance"),
            lambda plan: making.add_load(
                plan, name, running, starting, appliance=kind, volts=volts
            ),
        )
        if made is not None:
            for field in (self.name, self.running, self.starting):
                field.clear()
            self.appliance = "other"
            self.book.show_value(None)
            self.name.setFocus()

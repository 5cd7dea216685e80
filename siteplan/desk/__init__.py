"""The window: Qt lives here and nowhere else. `siteplan.desk.launch.run` opens it."""

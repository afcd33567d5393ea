"""Scheduling: networks of activities, working hours, and the run of several drums through hands, tub and drying."""

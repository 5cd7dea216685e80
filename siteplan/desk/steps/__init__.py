"""One panel per step of the job."""

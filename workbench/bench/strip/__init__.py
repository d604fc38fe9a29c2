"""The section strip: the vertical cut through the selected plane, whose handles are the solver's inputs."""

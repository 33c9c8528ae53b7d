"""The sample farm, which lives its years through the acts."""

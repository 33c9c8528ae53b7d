"""Codes and charts drawn on paper."""
